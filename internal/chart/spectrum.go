package chart

import "fmt"

// Spectrum is a spectral power, reflectance or transmittance. NM are wavelengths in nanometres, rising, one for each value.
type Spectrum struct {
	Name, Text string
	NM, Values []float64
}

// Spectra is one spectrum, or two to be compared, on one scale from 0. Values are drawn as they come: Quantity says what
// they are and how two were brought to one scale (such as "relative power, equal at 560 nm").
type Spectra struct {
	Quantity string
	Spectra  []Spectrum
}

// The wavelengths that are drawn, in nm.
const shortest, longest = 380.0, 780.0

// hues are where the names of hues stand along the axis, nm: common names, from memory.
var hues = []struct {
	nm   float64
	word string
}{{415, "violet"}, {465, "blue"}, {530, "green"}, {580, "yellow"}, {610, "orange"}, {680, "red"}}

// Draw returns the spectra from 380 to 780 nm, each by its own dash and sign, the first with hairs below it. Its scales are
// "wavelength" along x in nm and "value" along y. It panics when a spectrum's wavelengths and values differ in number.
func (s Spectra) Draw(f Frame) Drawing {
	k := newSketch(f)
	var highest span
	highest.hold(0)
	for _, one := range s.Spectra {
		if len(one.NM) != len(one.Values) {
			panic("chart: wavelengths and values differ in number")
		}
		for i, v := range one.Values {
			if one.NM[i] >= shortest && one.NM[i] <= longest {
				highest.hold(v)
			}
		}
		k.say(one.Name, one.Text)
	}
	top := s.key(k) + line + 8
	k.onPattern("axis", "", Text{String: s.Quantity, X: margin, Y: top - 8, Colour: k.theme.Muted})
	bottom := max(k.Height-margin-2*line-8, top+120)
	k.Height = bottom + 2*line + 8 + margin
	x := newScale("wavelength", "nm", false, [2]float64{margin + 12, k.Width - margin - 20}, [2]float64{shortest, longest})
	y := newScale("value", "", true, [2]float64{bottom, top}, [2]float64{0, highest.high * 1.05})
	k.Scales = append(k.Scales, x, y)
	s.axis(k, x, y)
	for n, one := range s.Spectra {
		one.curve(k, n, x, y)
	}
	return k.done()
}

// key writes which line is which and returns where it ends.
func (s Spectra) key(k *sketch) float64 {
	const sample = 44.0
	y := k.top
	for n, one := range s.Spectra {
		for i, text := range k.ruler.wrap(joined(one.Name, one.Text), k.Width-2*margin-sample-8, plain, k.theme.Bold) {
			y += line
			if i == 0 {
				k.stroke("label", one.Name, open(XY{margin, y - 5}, XY{margin + sample, y - 5}), pen{k.theme.Ink, 2.2, signOf(n).dash})
				k.sign("label", one.Name, XY{margin + sample/2, y - 5}, signOf(n))
			}
			k.text("label", one.Name, Text{String: text, X: margin + sample + 8, Y: y})
		}
	}
	return y
}

func (s Spectra) axis(k *sketch, x, y Scale) {
	bottom := y.Places[0]
	step := x.step(k.ruler.width("380", plain, k.theme.Bold)+14, 20, 40, 50, 100)
	for _, v := range x.ticks(step) {
		at := x.at(v)
		k.stroke("grid", "", open(XY{at, y.Places[1]}, XY{at, bottom}), pen{k.theme.Rule, 0.8, []float64{1.5, 4}})
		k.stroke("tick", "", open(XY{at, bottom}, XY{at, bottom + 6}), pen{k.theme.Ink, 1.4, nil})
		k.text("axis", "", Text{String: fmt.Sprintf("%.0f", v), X: at, Y: bottom + 20, Align: Middle})
	}
	k.stroke("axis", "", open(XY{x.Places[0], bottom}, XY{x.Places[1], bottom}), pen{k.theme.Ink, 2, nil})
	var wishes []wish
	total := 0.0
	for _, h := range hues {
		w := wish{x.at(h.nm), k.ruler.width(h.word, plain, k.theme.Bold) + 6}
		wishes, total = append(wishes, w), total+w.room
	}
	if total <= k.Width-2*margin {
		for i, at := range spread(wishes, margin, k.Width-margin) {
			k.text("axis", hues[i].word, Text{String: hues[i].word, X: at, Y: bottom + 20 + line, Align: Middle, Colour: k.theme.Muted})
		}
	}
	k.text("axis", "", Text{String: "nm", X: k.Width - margin, Y: bottom - 6, Align: Right, Colour: k.theme.Muted})
}

// curve draws a spectrum. Hairs below the first tell the two apart where they run together.
func (s Spectrum) curve(k *sketch, n int, x, y Scale) {
	area := box{x.Places[0], y.Places[1], x.Places[1], y.Places[0]}
	points := make([]XY, len(s.NM))
	for i, nm := range s.NM {
		points[i] = XY{x.at(nm), y.at(s.Values[i])}
	}
	path := clip(points, area)
	if n == 0 {
		k.stroke("area", s.Name, hairs(points, area), pen{k.theme.Muted, 0.8, nil})
	}
	k.stroke("line", s.Name, path, pen{k.theme.Ink, 2.2, signOf(n).dash})
	for at := area.left + 40 + 60*float64(n%2); at < area.right; at += 120 {
		if h, ok := heightAt(points, at); ok && area.contains(XY{at, h}) {
			k.sign("line", s.Name, XY{at, h}, signOf(n))
		}
	}
}

// hairs fills the area between a line and the bottom of a box.
func hairs(points []XY, area box) Path {
	var p Path
	for at := area.left + hair/2; at < area.right; at += hair {
		if h, ok := heightAt(points, at); ok && area.bottom-h > 0.5 {
			p = append(p, open(XY{at, area.bottom}, XY{at, max(h, area.top)})...)
		}
	}
	return p
}

// heightAt returns the height of a line at a place along x.
func heightAt(points []XY, x float64) (float64, bool) {
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		if a.X <= x && x <= b.X && b.X > a.X {
			h := a.Y + (x-a.X)/(b.X-a.X)*(b.Y-a.Y)
			return h, finite(h)
		}
	}
	return 0, false
}
