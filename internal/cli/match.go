package cli

import (
	"fmt"
	"path/filepath"
	"strings"

	"gloam/internal/chart"
	"gloam/internal/colour"
	"gloam/internal/fault"
	"gloam/internal/gear"
	"gloam/internal/pipeline"
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
	return r.Matched(o.kit.Name, pipeline.LampDial(o.kit, call.green), target, o.camera)
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
		t.line("    %-10s %.0f K, Duv %s", s.by, float64(s.Kelvin), colour.DuvText(s.Duv))
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
	return saveDrawing("--output", name, s.Draw(frame("spectrum", title)))
}
