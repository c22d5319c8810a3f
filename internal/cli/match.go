package cli

import (
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"gloam/internal/chart"
	"gloam/internal/colour"
	"gloam/internal/fault"
	"gloam/internal/gear"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// usualGreen is how far the green and pink control of a lamp goes that has one (common practice, no source).
const usualGreen = 0.01

// colourOptions is what a call's options stand for.
type colourOptions struct {
	balance, lamp unit.Kelvin
	skies         []unit.Kelvin
	camera        colour.Camera
	gels          []spectrum.Gel
	kit           *gear.Lamp
}

func (call *colourCall) read() (o colourOptions, err error) {
	for _, k := range []struct {
		option, text string
		to           *unit.Kelvin
	}{{"--balance", call.balance, &o.balance}, {"--lamp", call.lamp, &o.lamp}} {
		if k.text == "" {
			continue
		}
		if err := k.to.Parse(k.text); err != nil {
			return o, fault.Fault{Kind: fault.Call, Path: k.option, Text: err.Error(), Read: k.text, Allowed: k.to.Forms()}
		}
	}
	if (call.lamp == "") != (call.follow == "") {
		return o, fault.Fault{Kind: fault.Call, Path: "--follow", Text: "a lamp that follows needs its setting and the skies", Allowed: "--lamp 5600K --follow 7200K,6300K"}
	}
	for text := range strings.SplitSeq(call.follow, ",") {
		if text = strings.TrimSpace(text); text == "" {
			continue
		}
		var k unit.Kelvin
		if err := k.Parse(text); err != nil {
			return o, fault.Fault{Kind: fault.Call, Path: "--follow", Text: err.Error(), Read: text, Allowed: k.Forms()}
		}
		o.skies = append(o.skies, k)
	}
	if o.gels, err = gelsOf(call.gels); err != nil {
		return o, err
	}
	if err := checkChart("--output", call.out); err != nil {
		return o, err
	}
	if call.match != "" {
		var ok bool
		if o.kit, ok = gear.BuiltIn().Lamp(call.match); !ok {
			names := gear.BuiltIn().LampNames()
			return o, fault.Fault{Kind: fault.Call, Path: "--match", Text: "the kit has no such lamp", Read: call.match,
				Allowed: strings.Join(names, ", "), Hint: fault.Meant(call.match, names)}
		}
	}
	if !(call.green >= 0 && call.green <= 0.02) {
		return o, fault.Fault{Kind: fault.Call, Path: "--green", Text: "no lamp goes so far", Read: fmt.Sprint(call.green), Allowed: "0 to 0.02"}
	}
	o.camera = colour.GenericCamera()
	if call.camera != "" {
		text, err := readFile(call.camera)
		if err != nil {
			return o, err
		}
		if o.camera, err = colour.ReadCamera(call.camera, text); err != nil {
			return o, err
		}
	}
	return o, nil
}

func gelsOf(list string) ([]spectrum.Gel, error) {
	if list == "" {
		return spectrum.TradeGels(), nil
	}
	var gels []spectrum.Gel
	for text := range strings.SplitSeq(list, ",") {
		g, err := gelOf(strings.TrimSpace(text))
		if err != nil {
			f := fault.Of(err, fault.Call)[0]
			if f.Place.File == "" {
				f.Kind, f.Path = fault.Call, "--gels"
			}
			return nil, f
		}
		gels = append(gels, g)
	}
	return gels, nil
}

// gelOf reads a gel as it is written, or a measured roll.
func gelOf(text string) (spectrum.Gel, error) {
	if !strings.HasSuffix(strings.ToLower(text), ".csv") {
		return spectrum.ParseGel(text)
	}
	file, err := readFile(text)
	if err != nil {
		return spectrum.Gel{}, err
	}
	return spectrum.ReadGel(filepath.Base(text), text, file)
}

// lit is a light as the terminal was told of it. Of one that is assumed only the colour is known, and the curve is a smooth
// one of that colour.
type lit struct {
	name    string
	curve   spectrum.Curve
	assumed bool
	at      colour.Chromaticity
}

// light reads a light: a chromaticity, a colour temperature with or without Duv, an illuminant or a file.
func (t *terminal) light(text string) (*lit, error) {
	l := &lit{name: filepath.Base(text)}
	if x, y, ok := pair(text, ","); ok {
		return l.assume(colour.Chromaticity{X: x, Y: y})
	}
	if at, ok, err := reading(text); ok {
		if err != nil {
			return nil, fault.Of(err, fault.Call).Err()
		}
		return l.assume(at)
	}
	if c, ok := spectrum.Illuminant(text); ok {
		l.curve = c
		return l, nil
	}
	file, err := readFile(text)
	if err != nil {
		return nil, err
	}
	m, err := spectrum.Read(text, file)
	t.note(m.Notes)
	l.curve = m.Curve
	return l, err
}

// assume takes a light of which only the chromaticity is known.
func (l *lit) assume(at colour.Chromaticity) (_ *lit, err error) {
	l.at, l.assumed = at, true
	if !(at.X > 0 && at.Y > 0 && at.X+at.Y < 1) {
		return nil, fault.Fault{Kind: fault.Call, Text: "not a chromaticity", Read: l.name, Allowed: "x and y above 0, their sum below 1"}
	}
	if l.curve, err = colour.SmoothAt(at); err != nil {
		return nil, fault.Of(err, fault.Call).Err()
	}
	return l, nil
}

// pair reads two numbers.
func pair(text, separator string) (a, b float64, ok bool) {
	left, right, found := strings.Cut(text, separator)
	a, err1 := strconv.ParseFloat(strings.TrimSpace(left), 64)
	b, err2 := strconv.ParseFloat(strings.TrimSpace(right), 64)
	return a, b, found && err1 == nil && err2 == nil
}

// reading reads what a colour meter shows: 4000K, or 4000K+0.008 and 4000K-0.004 with the Duv. ok says that it is one.
func reading(text string) (at colour.Chromaticity, ok bool, err error) {
	number, duvText, found := strings.Cut(strings.ToUpper(strings.ReplaceAll(text, " ", "")), "K")
	kelvin, err := strconv.ParseFloat(number, 64)
	if !found || err != nil {
		return at, false, nil
	}
	duv := 0.0
	if duvText != "" {
		if duv, err = strconv.ParseFloat(strings.Replace(duvText, "−", "-", 1), 64); err != nil {
			return at, false, nil
		}
	}
	light, err := spectrum.BiColour(unit.Kelvin(kelvin), duv)
	return colour.MixtureOf([]spectrum.Light{light}, []unit.Lux{1}).Chromaticity(), true, err
}

func (l *lit) report(camera colour.Camera) (*colour.Report, fault.List) {
	if l.assumed {
		return colour.ReportAt(l.at, camera)
	}
	return colour.ReportOf(l.curve, camera)
}

func (l *lit) target(camera colour.Camera) (colour.Target, error) {
	if l.assumed {
		return colour.TargetAt(l.at)
	}
	return colour.TargetOf(l.curve, camera)
}

// besides fills in how one light stands to another.
func besides(r *colour.Report, light, other *lit, o colourOptions) fault.List {
	target, err := other.target(o.camera)
	if err != nil {
		r.Against = &colour.AgainstReport{Name: other.name, Gels: []colour.GelReport{}}
		return told(err)
	}
	list := r.Beside(other.name, light.curve, target, o.gels, o.camera)
	if !light.assumed && !other.assumed {
		ssi := colour.SSI(light.curve, other.curve)
		r.Against.SSI = &ssi
	}
	return list
}

// told turns what keeps a part of the answer from being known into notes: the rest stands.
func told(err error) fault.List {
	list := fault.Of(err, fault.Note)
	for i := range list {
		list[i].Kind = fault.Note
	}
	return list
}

// matched fills in how a lamp of the kit is to be set.
func (l *lit) matched(r *colour.Report, call *colourCall, o colourOptions) fault.List {
	target, err := l.target(o.camera)
	if err != nil {
		r.Match = &colour.MatchReport{Lamp: o.kit.Name}
		return told(err)
	}
	low, high := o.kit.Colours()
	dial := colour.Dial{Low: low, High: high, Green: call.green, Pink: call.green,
		Spectrum: func(k unit.Kelvin, duv float64) (spectrum.Curve, error) { return o.kit.Light(k, &duv) }}
	return r.Matched(o.kit.Name, dial, target, o.camera)
}

func (t *terminal) printMatch(m *colour.MatchReport) {
	t.line("  match with %s", clipped(m.Lamp, 60))
	for _, s := range []struct {
		by string
		*colour.SettingReport
	}{{"by eye", m.ByEye}, {"by camera", m.ByCamera}} {
		if s.SettingReport == nil {
			t.line("    %-10s unknown", s.by)
			continue
		}
		t.line("    %-10s %.0f K, Duv %s", s.by, float64(s.Kelvin), signedDuv(s.Duv))
		t.line("                 then to the eye %s%s", short(s.Eye), verdict(&s.EyeMatch))
		t.line("                 and in camera   %s%s", short(s.Camera), verdict(&s.CameraMatch))
	}
	if m.Disagree {
		t.line("    ▲ eye and camera disagree: set it by the camera, and trust no eye on the set")
	}
}

func (t *terminal) printFollow(f *colour.FollowReport) {
	t.line("  a lamp of %s stays %s from the sky", f.Lamp, f.Apart.Shift())
	for _, s := range f.Skies {
		t.line("    %s %s", right(fmt.Sprintf("sky %.0f K", float64(s.Sky)), 14), right(fmt.Sprintf("lamp %.0f K", float64(s.Lamp)), 14))
	}
}

// drawSpectra draws one light or two, each at 1 where it is greatest.
func drawSpectra(name string, lights ...*lit) error {
	s := chart.Spectra{Quantity: "relative power, greatest 1"}
	title := ""
	for _, l := range lights {
		if l == nil {
			continue
		}
		one := chart.Spectrum{Name: l.name}
		if l.assumed {
			one.Text = "assumed: only its colour is known"
		}
		most := 0.0
		for nm := 380.0; nm <= 780; nm++ {
			one.NM, one.Values = append(one.NM, nm), append(one.Values, l.curve.At(nm))
			most = max(most, l.curve.At(nm))
		}
		for i := range one.Values {
			if most > 0 {
				one.Values[i] /= most
			}
		}
		if title == "" {
			title = l.name
		}
		s.Spectra = append(s.Spectra, one)
	}
	return saveDrawing("--output", name, s.Draw(frame("spectrum", title, "")))
}
