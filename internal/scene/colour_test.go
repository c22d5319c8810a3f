package scene

import (
	"math"
	"testing"

	"gloam/internal/colour"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// A gel on a head or on an opening over any light: what comes through is that of curve times curve, integrated. What the
// bands would leave is logged: up to a visible error over narrow lines, which is why gels do not go by bands.
func TestGelsAreExact(t *testing.T) {
	white := func(k unit.Kelvin) spectrum.Curve { c, _ := spectrum.White(k, 0); return c }
	mixed, _ := spectrum.EmitterSet("RGB")
	_, narrow, err := mixed.Drive(5600, 0)
	if err != nil {
		t.Fatal(err)
	}
	tube := func(name string) spectrum.Curve { c, _ := spectrum.Illuminant(name); return c }
	worst, worstDuv := 0.0, 0.0
	for _, source := range []spectrum.Curve{white(3200), white(5600), white(7500), tube("FL2"), tube("FL11"), tube("LED-B3"), narrow} {
		for _, text := range []string{"full CTO", "1/2 CTO", "full CTB", "1/2 minus green", "full plus green", "ND 0.6"} {
			gel, err := spectrum.ParseGel(text)
			if err != nil {
				t.Fatal(err)
			}
			s := &Scene{Emitters: make([]Emitter, 1), Openings: []Opening{{Gel: gel.Curve}}}
			x, y, z := s.TristimulusWeights([]Dial{{Level: 1, Light: source, Gel: gel.Curve}})
			head, both := s.Column(0, -1), s.Column(0, 0)
			for _, row := range []struct {
				column int
				want   spectrum.Curve
			}{{head, source.Mul(gel.Curve)}, {both, source.Mul(gel.Curve).Mul(gel.Curve)}} {
				got := colour.XYZ{X: x[row.column].Dot(whole), Y: y[row.column].Dot(whole), Z: z[row.column].Dot(whole)}
				bare := spectrum.Response(source, spectrum.Observer1931())[1]
				want := spectrum.Response(row.want, spectrum.Observer1931())
				within(t, text+" X", got.X, want[0]/bare, 1e-9)
				within(t, text+" Y", got.Y, want[1]/bare, 1e-9)
				within(t, text+" Z", got.Z, want[2]/bare, 1e-9)
			}
			exact, err1 := colour.EyeView(source.Mul(gel.Curve))
			k, duv, err2 := colour.CCTDuv(colour.Of(spectrum.LightOf(source).Through(gel.Band), whole))
			if err1 != nil || err2 != nil {
				continue // the gel leaves no white
			}
			worst = max(worst, math.Abs(float64(k.Mired()-exact.Kelvin.Mired())))
			worstDuv = max(worstDuv, math.Abs(duv-exact.Duv))
		}
	}
	t.Logf("by bands a gel would be out by up to %.1f mired and Duv %.4f", worst, worstDuv)
}

const colours = `set: {rooms: {office: {size: 5 x 4 x 3 m, openings: {window: {wall: far, size: 2 x 1 m, gel: +109 mired 71 %}}}}}
lamps:
  lamp: {kit: B12-D26, at: 1 1 2, aim: N, colour: 4300 K, duv: 0.004}
practicals:
  tube: {kind: tube, at: 2 2 2.5, diameter: 26 mm, length: 1.2 m, faces: E, flux: 3000 lm, spectrum: FL11}
  sodium: {kind: globe, at: 3 3 2.5, diameter: 0.2 m, flux: 3000 lm, spectrum: HP1}
ambient:
  sky: {reading: 900 lx, shape: everywhere, through: [window], colour: 6200 K}
  tubes: {reading: 210 lx, shape: everywhere, spectrum: FL2, colour: 4000 K, duv: 0.008, ripple: 35 %}
supply: {mains: 50 Hz}
`

// A source has the colour the plan gives it: by kelvin and Duv, by the name of an illuminant, or an illuminant turned to a
// reading. The temperatures of FL11 and HP1 are the CIE's [CIE15]; their Duv is a guard.
func TestSourcesHaveTheirColour(t *testing.T) {
	s := built(t, colours)
	for _, row := range []struct {
		source              string
		kelvin, within, duv float64
	}{{"lamp", 4300, 3, 0.004}, {"tube", 4000, 10, 0}, {"sodium", 1959, 10, 0}, {"sky", 6200, 15, 0.0032}, {"tubes", 4000, 3, 0.008}} {
		for i := range s.Sources {
			if s.Sources[i].Name != row.source {
				continue
			}
			view, err := colour.EyeView(s.Dials[s.Sources[i].Emitters[0]].Light)
			if err != nil {
				t.Fatal(row.source, err)
			}
			within(t, row.source, float64(view.Kelvin), row.kelvin, row.within)
			within(t, row.source+", Duv", view.Duv, row.duv, 1.5e-3)
		}
	}
	if len(s.Ripples) != 1 || s.Ripples[0].Depth != 0.35 || s.Mains != 50 {
		t.Errorf("ripples %v on %v", s.Ripples, s.Mains)
	}
	// What the gelled window lets in: 10⁶/6200 + 109 mired = 3700 K, by hand.
	x, y, z := s.Scene.TristimulusWeights(s.Dials)
	for i := range s.Sources {
		if s.Sources[i].Name == "sky" {
			c := s.Scene.Column(s.Sources[i].Emitters[0], -1)
			k, _, err := colour.CCTDuv(colour.XYZ{X: x[c].Dot(whole), Y: y[c].Dot(whole), Z: z[c].Dot(whole)})
			if err != nil {
				t.Fatal(err)
			}
			within(t, "gelled window, mired", float64(k.Mired()), 270.3, 2)
		}
	}
}

// What a camera records under its balance: the light of the balance as it is, and a tint takes the green out.
func TestRecordedWeights(t *testing.T) {
	s := built(t, "lamps: {lamp: {kit: B12-D26, at: 1 1 2, aim: N, colour: 4300 K, duv: 0.004}}\n")
	response, err := colour.GenericCamera().Balance(4300, 0.004)
	if err != nil {
		t.Fatal(err)
	}
	s.Recorder = response
	x, y, z := s.Recorded()
	a, b, c := s.Scene.TristimulusWeights(s.Dials)
	at := s.Scene.Column(0, -1)
	within(t, "X", x[at].Dot(whole), a[at].Dot(whole), 1e-6)
	within(t, "Y", y[at].Dot(whole), b[at].Dot(whole), 1e-6)
	within(t, "Z", z[at].Dot(whole), c[at].Dot(whole), 1e-6)
}
