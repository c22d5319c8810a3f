package picture

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"gloam/internal/spectrum"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

// tabled takes a colour through the tables as their comment says.
func (t *Tones) tabled(rgb [3]float64) (out [3]float64) {
	if least := min(rgb[0], rgb[1], rgb[2]); least < 0 {
		grey := t.Luminance[0]*rgb[0] + t.Luminance[1]*rgb[1] + t.Luminance[2]*rgb[2]
		if grey <= 0 {
			return out
		}
		for i := range rgb {
			rgb[i] = max(0, grey+grey/(grey-least)*(rgb[i]-grey))
		}
	}
	most := max(rgb[0], rgb[1], rgb[2])
	if !(most > 0) {
		return out
	}
	k := between(t.Shown, most/t.Most) / most
	for i := range out {
		out[i] = between(t.Encoded, k*rgb[i])
	}
	return out
}

// between is a table's value between its steps.
func between(table []float32, share float64) float64 {
	at := min(max(share, 0), 1) * float64(len(table)-1)
	i := min(int(at), len(table)-2)
	return float64(table[i]) + (at-float64(i))*float64(table[i+1]-table[i])
}

// The tables show every colour as Display does, to a tenth of a step of 8 bits: from eight stops below the darkest that a screen
// tells to well above the clip, in and out of the gamut.
func TestTablesShowWhatDisplayShows(t *testing.T) {
	tones := ScreenTones()
	if last := tones.Shown[len(tones.Shown)-1]; math.Abs(float64(last)-1) > 1e-6 {
		t.Errorf("the brightest is shown as %v", last)
	}
	rapid.Check(t, func(t *rapid.T) {
		level := math.Exp2(rapid.Float64Range(-16, 8).Draw(t, "stops"))
		var rgb [3]float64
		for i := range rgb {
			rgb[i] = level * rapid.Float64Range(-0.3, 1).Draw(t, "component")
		}
		want := shown(rgb)
		got := tones.tabled(rgb)
		for i, w := range [3]uint16{want.R, want.G, want.B} {
			if d := math.Abs(got[i]*255 - float64(w)/math.MaxUint16*255); d > 0.1 {
				t.Errorf("%v is shown as %v, by the tables as %v", rgb, want, got)
			}
		}
	})
}

// The weights to the screen give what Display takes in; grey in light at the key is at 1 over grey.
func TestWeightsToTheScreen(t *testing.T) {
	img := synthetic(24, 13)
	w := dials(0.5, 0.8, 0, 0.3, 1)
	composite, screen := Compose(img, w), Compose(img, testCamera.Screen(w))
	scene := testCamera.scene()
	for i := range composite.Pixels {
		want := scene.ofXYZ(composite.Pixels[i])
		got := [3]float64{screen.Pixels[i].X, screen.Pixels[i].Y, screen.Pixels[i].Z}
		for k := range want {
			if math.Abs(got[k]-want[k]) > 1e-9*(1+math.Abs(want[k])) {
				t.Fatalf("pixel %d: %v, want %v", i, got, want)
			}
		}
	}
	near(t, "grey at the key", OverGrey(testCamera.Camera)*0.18*float64(testCamera.Key())/math.Pi, 1, 1e-12)
}

// Each tone falls in the band that begins at or below it, in the key's own words.
func TestBandsAreTheKeys(t *testing.T) {
	for _, k := range []key{{-6, 6}, {-9.5, 7.2}, {-2.3, 1.6}, {-1, 0.2}} {
		bands := Bands(k.noiseFloor, k.clip)
		for over := unit.Stop(-12); over <= 12; over += 0.05 {
			in := 0
			for i := 1; i < len(bands); i++ {
				if over >= bands[i].From {
					in = i
				}
			}
			class := k.class(over)
			if bands[in].Label != k.label(class) || ink(bands[in].Ground) != grounds[class] {
				t.Errorf("%v from %v to %v: band %+v, class %s", over, k.noiseFloor, k.clip, bands[in], k.label(class))
			}
			if drawn := bands[in].Pattern != Plain; drawn != (class == noiseClass || class == clipClass) {
				t.Errorf("%v: pattern %q", over, bands[in].Pattern)
			}
		}
	}
}

// The numbers are those of the map, in the middle of their bands.
func TestNumbersStandInTheirBands(t *testing.T) {
	c := wedge(-3, 7, 60, 40)
	found := 0
	for _, n := range Numbers(c, testCamera.Camera, -6, 6) {
		over := c.Probe(n.X, n.Y, testCamera.Camera).OverGrey
		if want := (key{-6, 6}).label((key{-6, 6}).class(over)); n.Text != want {
			t.Errorf("at %d, %d stands %q, want %q", n.X, n.Y, n.Text, want)
		}
		found++
	}
	if found != 7 {
		t.Errorf("%d numbers on seven bands", found)
	}
}

// An even light stays even; at an outline the light of one surface does not run over on the other; and a coarse picture laid on
// the sharp surfaces is nearer the truth than one that is only smeared larger.
func TestLay(t *testing.T) {
	coarse, fine := synthetic(60, 33), synthetic(240, 132)
	even := *coarse
	even.Layers = []transport.ImageLayer{{Pixels: coarse.Albedo}} // of 1 cd/m² on white everywhere
	laid := Lay(&even, fine).Layers[0].Pixels
	for i := range laid {
		if want := fine.Albedo[i][3]; math.Abs(float64(laid[i][3]-want)) > 1e-3*float64(want)+1e-6 && want >= leastAlbedo {
			t.Fatalf("pixel %d: %v of an even light, want %v", i, laid[i][3], want)
		}
	}
	w := dials(1, 0, 0, 0, 0)
	truth := *fine
	truth.Layers = fine.Layers[:1]
	coarse.Layers = coarse.Layers[:1]
	sharp, smeared := Lay(coarse, fine), truth
	smeared.Layers = append(truth.Layers[:0:0], truth.Layers[0])
	smeared.Layers[0].Pixels = make([][spectrum.Bands]float32, len(fine.Albedo))
	for i := range smeared.Layers[0].Pixels {
		smeared.Layers[0].Pixels[i] = coarse.Layers[0].Pixels[min(i/240/4, 32)*60+i%240/4]
	}
	want := Compose(&truth, w)
	off := func(img *transport.Image) float64 { // root mean square of the luminance, over the mean
		var squares, sum float64
		for i, p := range Compose(img, w).Pixels {
			squares += (p.Y - want.Pixels[i].Y) * (p.Y - want.Pixels[i].Y)
			sum += want.Pixels[i].Y
		}
		return math.Sqrt(squares*float64(len(want.Pixels))) / sum
	}
	a, b := off(sharp), off(&smeared)
	t.Logf("laid %.3f of the mean off, smeared %.3f", a, b)
	if !(a < b/2) {
		t.Errorf("laid on the surfaces it is %.3f of the mean off, smeared %.3f", a, b)
	}
}
