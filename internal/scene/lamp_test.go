package scene

import (
	"math"
	"testing"

	"gloam/internal/unit"
)

// What a lamp's light leaves from, by the kit. The octagon of 1.5 m across flats has the area 2·tan(π/8)·1.5² = 1.864 m²;
// it counts as the disc of that area. A tube's intensity square-on is L·length·diameter.
func TestLampOpenings(t *testing.T) {
	for _, row := range []struct {
		name, kit string
		form      Form
		luminance float64 // of a tube; else its peak stands in peak
		peak      float64
	}{
		{"dish 26°", "B12-D26", Form{Shape: Disc, Radius: 0.15}, 0, 250e3},
		{"dish 60°", "B12-D60", Form{Shape: Disc, Radius: 0.125}, 0, 50e3},
		{"Fresnel", "B12-FS", Form{Shape: Disc, Radius: 0.125}, 0, 560e3},
		{"small dish", "B3-D55", Form{Shape: Disc, Radius: 0.075}, 0, 14e3},
		{"octagon", "B12-O150", Form{Shape: Disc, Radius: math.Sqrt(2 * math.Tan(math.Pi/8) * 1.5 * 1.5 / math.Pi)}, 0, 9e3},
		{"panel", "P20", Form{Shape: Panel, Width: 0.6, Height: 0.3}, 0, 4e3},
		{"tube", "T1", Form{Shape: Tube, Radius: 0.02, Height: 1.2}, 450 / (1.2 * 0.04), 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			e := built(t, "lamps: {lamp: {kit: "+row.kit+", at: 0 0 2, aim: N}}\n").emitter(t, "lamp")
			if e.Kind != Lamp || e.Form.Shape != row.form.Shape {
				t.Fatalf("is of kind %d and shape %d", e.Kind, e.Form.Shape)
			}
			within(t, "radius", e.Form.Radius, row.form.Radius, 1e-3)
			within(t, "width", e.Form.Width, row.form.Width, 1e-9)
			within(t, "height", e.Form.Height, row.form.Height, 1e-9)
			within(t, "luminance", e.Luminance, row.luminance, 1e-6)
			if (e.Beam == nil) != (row.peak == 0) {
				t.Fatalf("its beam is %v", e.Beam)
			}
			if e.Beam != nil {
				within(t, "peak", float64(e.Beam.Peak()), row.peak, 1e-6*row.peak)
			}
			if e.Offset != 0 {
				t.Errorf("seems to lie %g m behind its front", e.Offset)
			}
		})
	}
}

// A lamp that faces +y: its X is level and to the right of who stands behind it; roll turns that clockwise, as seen from
// behind, so that a panel's longer side goes down on the right. A tube lies square-on to its aim.
func TestLampRoll(t *testing.T) {
	sin, cos := math.Sincos(30 * math.Pi / 180)
	for _, kit := range []string{"P20", "T1"} {
		for _, row := range []struct {
			name, fields string
			x            vec
		}{{"plain", "", vec{X: 1}}, {"rolled", ", roll: 30 deg", vec{X: cos, Z: -sin}}, {"upright", ", roll: 90 deg", vec{Z: -1}}} {
			t.Run(kit+" "+row.name, func(t *testing.T) {
				b := built(t, "lamps: {lamp: {kit: "+kit+", at: 0 0 2, aim: N"+row.fields+"}}\n").emitter(t, "lamp").Basis
				near(t, "X", b.X, row.x)
				near(t, "axis", b.Z, vec{Y: 1})
			})
		}
	}
}

// A spot-to-flood head at one of its settings is that setting's bell; between them ln I0 is linear in ln β.
func TestLampZoom(t *testing.T) {
	for zoom, peak := range map[string]float64{"12 deg": 560e3, "24 deg": 200e3, "40 deg": 75e3,
		"17 deg": math.Exp(math.Log(560e3) + math.Log(200.0/560)*math.Log(17.0/12)/math.Log(2))} {
		e := built(t, "lamps: {lamp: {kit: B12-F, zoom: "+zoom+", at: 0 0 2, aim: N}}\n").emitter(t, "lamp")
		within(t, "peak at "+zoom, float64(e.Beam.Peak()), peak, 1e-6*peak)
	}
}

// A data sheet's levels at three distances, worked out from 560 kcd that seem to come from 0.40 m behind the lens:
// E = I/(d + 0.40)². The fit finds both again.
func TestLampOffsetFromLevels(t *testing.T) {
	files := shelf{"van.yaml": `kit: 1
lamps:
  lens: {like: B12-FS, quality: measured, beams: {beam: 12 deg, levels: [28925.6 lx @ 4 m, 7936.5 lx @ 8 m, 3642.04 lx @ 12 m]}}
`}
	e := builtWith(t, "kit: [van.yaml]\nlamps: {lamp: {kit: lens, at: 0 0 2, aim: N}}\n", files).emitter(t, "lamp")
	within(t, "offset", e.Offset, 0.40, 1e-3)
	within(t, "peak", float64(e.Beam.Peak()), 560e3, 200)
	near(t, "front", e.Centre, vec{Z: 2})
}

// Level and colour: output at 2700 K is 0.74 of that at 5600 K by the kit's table, the dim curve is straight.
func TestLampDial(t *testing.T) {
	for _, row := range []struct {
		name, fields string
		level        float64
		dim, most    unit.Fraction
	}{
		{"full at the reference", "kit: B12-D26", 1, 1, 1},
		{"half", "kit: B12-D26, dim: 50 %", 0.5, 0.5, 1},
		{"2700 K", "kit: B12-D26, colour: 2700 K", 0.74, 1, 1},
		{"2700 K at half", "kit: B12-D26, colour: 2700 K, dim: 50 %", 0.37, 0.5, 1},
		{"quiet is as bright as the mode allows", "kit: B12-D26, mode: quiet", 0.6, 0.6, 0.6},
		{"quiet and dimmed", "kit: B12-D26, mode: quiet, dim: 30 %", 0.3, 0.3, 0.6},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := built(t, "lamps: {lamp: {"+row.fields+", at: 0 0 2, aim: N}}\n")
			dial, use := s.Dials[0], s.lamp(t, "lamp")
			within(t, "level", dial.Level, row.level, 1e-9)
			within(t, "dim", float64(use.Dim), float64(row.dim), 1e-9)
			within(t, "most", float64(use.MaxDim), float64(row.most), 1e-9)
			if !dial.Gel.IsOne() {
				t.Error("a gel that the plan does not name")
			}
			if use.Emitter != 0 || s.Sources[0].Name != "lamp" || s.Sources[0].Ambient {
				t.Errorf("the lamp is emitter %d of source %+v", use.Emitter, s.Sources[0])
			}
		})
	}
	gelled := built(t, "lamps: {lamp: {kit: B12-D26, gel: ND 0.3, at: 0 0 2, aim: N}}\n").Dials[0]
	within(t, "gel", gelled.Gel.At(550), math.Pow(10, -0.3), 1e-9)
	if gelled.Level != 1 {
		t.Errorf("a gel changes the level to %g", gelled.Level)
	}
}

// square is a photometric file [LM-63] of 1,000 cd on the axis and 500 cd at 45° and at 90° toward C0 alone, in 0° to 90°.
const square = `IESNA:LM-63-2002
TILT=NONE
1 -1 1 3 5 1 2 0.4 0.2 0
1 1 120
0 45 90
0 90 180 270 360
1000 500 500
1000 0 0
1000 0 0
1000 0 0
1000 500 500
`

// A photometric file stands in for the kit's beam, its axis toward the aim and its C0 half-plane to the right of who
// stands behind; opening, colour and quality stay the kit's.
func TestPhotometryInPlaceOfTheBeam(t *testing.T) {
	s := builtWith(t, "lamps: {lamp: {kit: B12-D26, photometry: flat.ies, at: 0 0 2, aim: N, colour: 2700 K}}\n", shelf{"flat.ies": square})
	e := s.emitter(t, "lamp")
	within(t, "on the axis", e.Beam.At(e.Basis.In(vec{Y: 1})), 1000, 1e-6)
	right := vec{X: 1, Y: 1}.Unit()
	within(t, "45° to the right", e.Beam.At(e.Basis.In(right)), 500, 1e-6)
	within(t, "45° to the left", e.Beam.At(e.Basis.In(vec{X: -1, Y: 1}.Unit())), 0, 1e-6)
	within(t, "45° down", e.Beam.At(e.Basis.In(vec{Y: 1, Z: -1}.Unit())), 0, 1e-6)
	within(t, "radius of the kit's dish", e.Form.Radius, 0.15, 1e-9)
	within(t, "level at 2700 K by the kit", s.Dials[0].Level, 0.74, 1e-9)
}

// A photometric file may be all that is known of a lamp: its opening is the file's, its colour the one stated, its
// quality a sheet's.
func TestPhotometryAlone(t *testing.T) {
	s := builtWith(t, "lamps: {lamp: {photometry: flat.ies, at: 0 0 2, aim: N, colour: 3200 K, dim: 50 %}}\n", shelf{"flat.ies": square})
	e := s.emitter(t, "lamp")
	within(t, "on the axis", e.Beam.At(e.Basis.In(vec{Y: 1})), 1000, 1e-6)
	within(t, "level", s.Dials[0].Level, 0.5, 1e-9)
	within(t, "most", float64(s.lamp(t, "lamp").MaxDim), 1, 0)
	if d := s.Sources[0].Doubts[0]; d.Stops != 0.45 || d.Cause != "figures of flat.ies" {
		t.Errorf("the figures are doubted by %+v", d)
	}
	for _, row := range []struct {
		name, opening string // width along C90, length along C0, height
		form          Form
	}{
		{"a rectangle", "0.4 0.2 0", Form{Shape: Panel, Width: 0.2, Height: 0.4}},
		{"a circle", "-0.3 -0.3 0", Form{Shape: Disc, Radius: 0.15}},
		{"a point", "0 0 0", Form{Shape: Disc, Radius: 0.005}},
		{"a line", "0 1.2 0", Form{Shape: Panel, Width: 1.2, Height: 0.01}},
	} {
		files := shelf{"f.ies": replaced(square, "0.4 0.2 0", row.opening)}
		form := builtWith(t, "lamps: {lamp: {photometry: f.ies, at: 0 0 2, aim: N}}\n", files).emitter(t, "lamp").Form
		if form != row.form {
			t.Errorf("%s is %+v, want %+v", row.name, form, row.form)
		}
	}
}

// Doubts in stops by quality of the figures; the figures' cause is the kit item's, so that two lamps of a kind err
// together, and distance and dim are each head's own.
func TestLampDoubts(t *testing.T) {
	files := shelf{"van.yaml": "kit: 1\nlamps:\n  mine: {like: B12-D26, quality: measured, beams: {beam: 26 deg, peak: 240 kcd}}\n  old: {like: B12-D26, quality: guess, beams: {beam: 26 deg, peak: 240 kcd}}\n"}
	s := builtWith(t, "kit: [van.yaml]\nlamps: {a: {kit: mine, at: 0 0 2, aim: N}, b: {kit: B12-D26, at: 1 0 2, aim: N}, c: {kit: B12-D26, at: 2 0 2, aim: N}, d: {kit: old, at: 3 0 2, aim: N}}\n", files)
	cause := func(i int) string { return s.Sources[i].Doubts[0].Cause }
	for i, want := range []unit.Stop{0.15, 0.45, 0.45, 1.0} { // measured, sheet, sheet, guess
		doubts := s.Sources[i].Doubts
		if len(doubts) != 3 || doubts[0].Stops != want || doubts[1].Stops != 0.14 || doubts[2].Stops != 0.07 {
			t.Errorf("lamp %d has doubts %v, want %v, distance 0.14 and dim 0.07", i, doubts, want)
		}
	}
	if cause(1) != cause(2) || cause(0) == cause(1) || cause(1) == cause(3) {
		t.Errorf("the causes are %q, %q, %q and %q", cause(0), cause(1), cause(2), cause(3))
	}
	if s.Sources[1].Doubts[1].Cause == s.Sources[2].Doubts[1].Cause {
		t.Error("two heads share the doubt of their distance")
	}
}

// A globe of flux Φ and radius r has L = Φ/(4π²r²) all over: 470 lm at 0.14 m is 2,430 cd/m². A candle of 13 lm is about
// 1 cd. A panel of area A has L = Φ/(πA), a tube Φ/(π·2πrl).
func TestPracticals(t *testing.T) {
	s := built(t, `practicals:
  globe: {kind: globe, at: 0 0 1, diameter: 0.14 m, flux: 470 lm, dim: 24 %}
  read globe: {kind: globe, at: 1 0 1, diameter: 0.14 m, luminance: 2430 cd/m2}
  candle: {kind: candle, at: 2 0 1}
  panel: {kind: panel, at: 3 0 1, size: 0.5 x 0.4 m, faces: N, flux: 1000 lm}
  tube: {kind: tube, at: 4 0 1, diameter: 26 mm, length: 1.2 m, faces: E, flux: 2700 lm}
  shade: {kind: shade, at: 5 0 1, diameter: 0.3 m, length: 0.2 m, flux: 470 lm}
`)
	globe := s.emitter(t, "globe")
	if globe.Form.Shape != Globe || globe.Form.Radius != 0.07 {
		t.Errorf("the globe's form is %+v", globe.Form)
	}
	within(t, "globe", globe.Luminance, 2430, 1)
	within(t, "globe as read", s.emitter(t, "read globe").Luminance, 2430, 1e-9)
	within(t, "dimmed globe", s.Dials[0].Level, 0.24, 1e-9)
	candle := s.emitter(t, "candle")
	within(t, "candle, cd", candle.Luminance*math.Pi*candle.Form.Radius*candle.Form.Radius, 13/(4*math.Pi), 1e-9)
	panel := s.emitter(t, "panel")
	within(t, "panel, cd", float64(panel.Beam.Peak()), 1000/math.Pi, 1e-9)
	within(t, "panel, lm", float64(panel.Beam.Flux()), 1000, 1e-6)
	near(t, "panel faces", panel.Basis.Z, vec{Y: 1})
	if panel.Form != (Form{Shape: Panel, Width: 0.5, Height: 0.4}) {
		t.Errorf("the panel's form is %+v", panel.Form)
	}
	tube := s.emitter(t, "tube")
	near(t, "tube lies along", tube.Basis.X, vec{X: 1})
	near(t, "a right-handed basis", tube.Basis.X.Cross(tube.Basis.Y), tube.Basis.Z)
	within(t, "tube", tube.Luminance, 2700/(2*math.Pi*math.Pi*0.013*1.2), 1e-6)
	bulb := s.emitter(t, "shade")
	if bulb.Form.Shape != Globe || bulb.Form.Radius >= 0.1 {
		t.Errorf("the bulb in the shade has form %+v", bulb.Form)
	}
	shade := s.surface(t, "shade shade")
	area, _ := facet(shade.Mesh)
	within(t, "mantle", area, 2*math.Pi*0.15*0.2, 1e-3) // of 48 flat sides
	low, high := bounds(shade.Mesh)
	near(t, "least corner", low, vec{X: 4.85, Y: -0.15, Z: 0.9})
	near(t, "most corner", high, vec{X: 5.15, Y: 0.15, Z: 1.1})
	even(t, "the shade is full white cloth: through", shade.Optics.Transmit, 0.4)
	even(t, "and back", shade.Optics.ReflectBack, 0.5)
	if got := s.lamp(t, "shade"); got.Kit != nil || got.MaxDim != 1 {
		t.Errorf("the practical's use is %+v", got)
	}
	if s.Sources[0].Doubts[0].Stops != 1.0 { // a guess, if the plan does not say
		t.Errorf("the globe's doubts are %v", s.Sources[0].Doubts)
	}
}

// Cloths: front, back and through by the kit; light cloth lets 2^−loss straight on and scatters the rest.
func TestClothOptics(t *testing.T) {
	s := built(t, `cloths:
  grid: {kind: full grid, size: 1.2 x 1.2 m, at: 0 0 1, faces: N}
  half: {kind: half white, size: 4 x 4 ft, at: 3 0 1, faces: N}
  black: {kind: black, size: 1 x 1 m, at: 6 0 1, faces: N}
  bounce: {kind: white bounce, size: 1 x 1 m, at: 9 0 1, faces: S}
`)
	grid, half := s.surface(t, "grid"), s.surface(t, "half")
	even(t, "grid front", grid.Optics.ReflectFront, 0.65)
	even(t, "grid through", grid.Optics.Transmit, 0.22)
	even(t, "grid straight on", grid.Optics.Straight, 0)
	even(t, "half white straight on", half.Optics.Straight, math.Exp2(-0.75))
	even(t, "half white scattered on", half.Optics.Transmit, 0.20)
	even(t, "half white back", half.Optics.ReflectFront, 0.15)
	even(t, "black", s.surface(t, "black").Optics.ReflectFront, 0.03)
	even(t, "bounce", s.surface(t, "bounce").Optics.ReflectFront, 0.80)
	near(t, "bounce faces", second(facet(s.surface(t, "bounce").Mesh)), vec{Y: -1})
	area, _ := facet(half.Mesh)
	within(t, "area of 4 by 4 feet", area, 1.2192*1.2192, 1e-9)
	for i, name := range []string{"grid", "half", "black", "bounce"} {
		if s.Scene.Cloths[i] != name || s.surface(t, name).Cloth != i {
			t.Errorf("%s is piece %d, named %q", name, s.surface(t, name).Cloth, s.Scene.Cloths[i])
		}
	}
	if s.ClothKinds[0] != "full grid cloth" || s.ClothDoubts[0] != 0.40 { // a sheet's
		t.Errorf("the grid is of kind %q with doubt %v", s.ClothKinds[0], s.ClothDoubts[0])
	}
}
