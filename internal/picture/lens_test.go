package picture

import (
	"math"
	"testing"

	"gloam/internal/exposure"
	"gloam/internal/geometry"
	"gloam/internal/photometry"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

// ahead looks along +y from the origin.
var ahead = geometry.Basis{X: geometry.Vector{X: 1}, Y: geometry.Up.Neg(), Z: geometry.Vector{Y: 1}}

// globes returns a scene of nothing but balls of light of 1 cd/m² in each band.
func globes(radius float64, places ...geometry.Vector) *scene.Scene {
	s := &scene.Scene{}
	for _, at := range places {
		s.Emitters = append(s.Emitters, scene.Emitter{Name: "globe", Source: "globe", Kind: scene.Lamp, Centre: at, Basis: geometry.About(geometry.Up),
			Form: scene.Form{Shape: scene.Globe, Radius: radius}, Luminance: 1})
	}
	return s
}

func looked(t *testing.T, s *scene.Scene, view *scene.View, width, height, samples int) *Composite {
	t.Helper()
	img, err := transport.TraceImage(t.Context(), s, transport.ImageRequest{Seed: 1, View: view, Width: width, Height: height, Samples: samples})
	if err != nil {
		t.Fatal(err)
	}
	w := make([]spectrum.Band, s.Columns())
	for c := range w {
		w[c] = grey(1.0 / spectrum.Bands)
	}
	return Compose(img, Weights{w, w, w})
}

// spot returns the middle of all light in a picture and its spread along x, in pixels.
func spot(c *Composite) (x, y, deviation float64) {
	var sum, square float64
	for i, p := range c.Pixels {
		u, v := float64(i%c.Width)+0.5, float64(i/c.Width)+0.5
		sum += p.Y
		x += u * p.Y
		y += v * p.Y
		square += u * u * p.Y
	}
	x, y = x/sum, y/sum
	return x, y, math.Sqrt(square/sum - x*x)
}

// A sensor 24.9 mm wide behind 35 mm sees 2·atan(24.9/70) = 39.17°, behind 85 mm 16.66°, and as much in height as the
// sensor has: plane geometry. A ball 0.3° inside the border is in the picture, whole; 0.3° outside, nothing of it is.
func TestFieldOfView(t *testing.T) {
	for _, c := range []struct {
		name          string
		focal, across float64 // mm, degrees
	}{{"wide", 18, 69.34}, {"35 mm", 35, 39.17}, {"85 mm", 85, 16.66}} {
		t.Run(c.name, func(t *testing.T) {
			lens := exposure.Lens{Focal: unit.Metre(c.focal / 1000)}
			near(t, "field", float64(lens.Field(0.0249)), c.across, 0.01)
			view := &scene.View{Basis: ahead, Focal: c.focal / 1000, Width: 0.0249, Height: 0.0140}
			for _, way := range []struct {
				side unit.Metre
				of   func(tangent float64) geometry.Vector
			}{
				{0.0249, func(k float64) geometry.Vector { return geometry.Vector{X: 10 * k, Y: 10} }},
				{0.0249, func(k float64) geometry.Vector { return geometry.Vector{X: -10 * k, Y: 10} }},
				{0.0140, func(k float64) geometry.Vector { return geometry.Vector{Y: 10, Z: 10 * k} }},
				{0.0140, func(k float64) geometry.Vector { return geometry.Vector{Y: 10, Z: -10 * k} }},
			} {
				half := float64(lens.Field(way.side)) / 2
				for _, off := range []float64{-0.3, 0.3} {
					tangent := math.Tan((half + off) * math.Pi / 180)
					seen := false
					for _, p := range looked(t, globes(0.04, way.of(tangent)), view, 128, 72, 16).Pixels {
						seen = seen || p.Y > 0
					}
					if seen != (off < 0) {
						t.Errorf("%+.1f° beside the border at %.2f°: seen is %v", off, half, seen)
					}
				}
			}
		})
	}
}

// A thing stands in the picture where the rule of three puts it: x' = f·x/d.
func TestPlaceInThePicture(t *testing.T) {
	view := &scene.View{Basis: ahead, Focal: 0.035, Width: 0.0249, Height: 0.0140}
	x, y, _ := spot(looked(t, globes(0.05, geometry.Vector{X: 1.5, Y: 8, Z: 0.75}), view, 480, 270, 16))
	near(t, "x", x, 240+480*0.035*1.5/8/0.0249, 0.3)
	near(t, "y", y, 135-270*0.035*0.75/8/0.0140, 0.3)
}

// The disc of a thing out of focus has the diameter f²·|d−s|/(N·d·(s−f)) of the thin lens (Gauss's lens equation, as in
// [BornWolf] 4.4, and similar triangles). For 50 mm at f/2 focused at 2 m: 0.3205 mm at 4 m, 0.6410 mm at 1 m, and nothing
// at 2 m. A camera of the plan keeps its field while it is focused, which makes all lengths on the sensor less by
// (s−f)/s, 2.5 % here. The ball's own image is taken off, as are the pixels: a disc of diameter c has the variance c²/16,
// a pixel 1/12.
func TestBlur(t *testing.T) {
	const focal, stop, focus = 0.050, 2.0, 2.0
	lens := exposure.Lens{Focal: focal, Opening: stop}
	for _, c := range []struct {
		name         string
		distance, mm float64
	}{{"behind the focus", 4, 0.3205}, {"before the focus", 1, 0.6410}, {"in focus", 2, 0}} {
		t.Run(c.name, func(t *testing.T) {
			formula, err := lens.Blur(focus, unit.Metre(c.distance))
			if err != nil {
				t.Fatal(err)
			}
			near(t, "formula", 1000*float64(formula), c.mm, 5e-5)
			const width = 96
			view := &scene.View{Basis: ahead, Focal: focal, Width: 0.0016, Height: 0.0016, Focus: focus, Aperture: focal / stop}
			radius := 0.0015 * c.distance // 0.15 mm across on the sensor
			_, _, deviation := spot(looked(t, globes(radius, geometry.Vector{Y: c.distance}), view, width, width, 64))
			pixel := 1.6 / width // mm
			own := 1000 * 2 * radius * focal / c.distance
			square := 16*(deviation*deviation-1.0/12)*pixel*pixel - own*own
			got := math.Sqrt(math.Max(0, square)) * focus / (focus - focal)
			near(t, "diameter on the sensor, mm", got, c.mm, 0.01*c.mm+0.015)
		})
	}
}

// A pixel says what a spot meter says: the engine's own spot reading along the same way, in a room of matt walls under a
// lamp that is bounced off the ceiling, within four standard errors of both.
func TestProbeIsTheSpotReading(t *testing.T) {
	s := bounceRoom()
	view := &scene.View{At: geometry.Vector{X: 1, Y: 0.5, Z: 1.5}, Basis: ahead, Focal: 0.035, Width: 0.0249, Height: 0.0140}
	const width, height, samples = 96, 54, 32
	img, err := transport.TraceImage(t.Context(), s, transport.ImageRequest{Seed: 1, View: view, Width: width, Height: height, Samples: samples})
	if err != nil {
		t.Fatal(err)
	}
	clean := denoised(t, img)
	camera := testCamera.Camera
	w := []spectrum.Band{grey(1.0 / spectrum.Bands)}
	places := [][2]int{{20, 12}, {48, 27}, {80, 40}, {60, 8}, {10, 48}}
	for _, p := range places {
		way := geometry.Vector{X: ((float64(p[0])+0.5)/width - 0.5) * view.Width / view.Focal, Y: ((float64(p[1])+0.5)/height - 0.5) * view.Height / view.Focal, Z: 1}
		s.Receivers = append(s.Receivers, scene.Receiver{Name: "spot", Kind: scene.Spot, Position: view.At, Normal: view.Basis.Out(way).Unit()})
	}
	layers, err := transport.Trace(t.Context(), s, transport.Request{Seed: 2, Weights: w, Goal: 0.01, MostPaths: 1 << 16})
	if err != nil {
		t.Fatal(err)
	}
	for i, p := range places {
		level, se := layers.Points[i].Level(w)
		want := float64(camera.OverGrey(unit.Nit(level)))
		doubt := 4 * float64(transport.StopError(level, se))
		raw := Compose(img, Weights{w, w, w}).Probe(p[0], p[1], camera)
		variance := float64(img.Layers[0].Variance[p[1]*width+p[0]])
		near(t, "as traced, stops over grey", float64(raw.OverGrey), want, doubt+4*math.Sqrt(variance)/level/math.Ln2)
		near(t, "without the grain", float64(Compose(clean, Weights{w, w, w}).Probe(p[0], p[1], camera).OverGrey), want, doubt+0.06)
	}
}

// bounceRoom is 4 × 4 × 2.6 m of reflectance 0.5 with a beam of 40° on its ceiling.
func bounceRoom() *scene.Scene {
	side := func(c, n geometry.Vector, w, h float64) scene.Surface {
		return scene.Surface{Mesh: geometry.Rectangle(c, geometry.About(n), w, h), Optics: scene.Matt(grey(0.5)), Cloth: -1, Opening: -1}
	}
	up := geometry.Up
	return &scene.Scene{
		Surfaces: []scene.Surface{
			side(geometry.Vector{X: 2, Y: 2}, up, 4, 4), side(geometry.Vector{X: 2, Y: 2, Z: 2.6}, up.Neg(), 4, 4),
			side(geometry.Vector{X: 2, Z: 1.3}, geometry.Vector{Y: 1}, 4, 2.6), side(geometry.Vector{X: 2, Y: 4, Z: 1.3}, geometry.Vector{Y: -1}, 4, 2.6),
			side(geometry.Vector{Y: 2, Z: 1.3}, geometry.Vector{X: 1}, 4, 2.6), side(geometry.Vector{X: 4, Y: 2, Z: 1.3}, geometry.Vector{X: -1}, 4, 2.6),
		},
		Emitters: []scene.Emitter{{Name: "lamp", Source: "lamp", Kind: scene.Lamp, Centre: geometry.Vector{X: 3, Y: 1, Z: 0.4},
			Basis: geometry.About(up), Beam: photometry.Bell(20000, 40), Form: scene.Form{Radius: 0.1}}},
	}
}
