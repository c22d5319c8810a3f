package picture

import (
	"math"
	"runtime"
	"slices"
	"testing"

	"gloam/internal/colour"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
	"gloam/internal/transport"
)

// flat returns a picture of one matt surface, all pixels alike, with layers of the given responses.
func flat(width, height int, albedo spectrum.Band, responses ...spectrum.Band) *transport.Image {
	n := width * height
	img := &transport.Image{Width: width, Height: height, Albedo: make([][spectrum.Bands]float32, n),
		Normal: make([][3]float32, n), Depth: make([]float32, n), Samples: 16}
	for l, r := range responses {
		layer := transport.ImageLayer{Name: "lamp", Column: l, Pixels: make([][spectrum.Bands]float32, n), Variance: make([]float32, n)}
		for i := range layer.Pixels {
			layer.Pixels[i] = narrow(r)
		}
		img.Layers = append(img.Layers, layer)
	}
	for i := range n {
		img.Albedo[i], img.Normal[i], img.Depth[i] = narrow(albedo), [3]float32{0, -1, 0}, 3
	}
	return img
}

func narrow(b spectrum.Band) (p [spectrum.Bands]float32) {
	for i, v := range b {
		p[i] = float32(v)
	}
	return p
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %v, want %v ± %v", what, got, want, tolerance)
	}
}

// A matt surface of reflectance ρ in E lux has the luminance ρE/π, whatever the lamp's spectrum; two lamps add up; a gel
// and a level are products. The weights are those of the scene.
func TestComposeUnderTheScenesDials(t *testing.T) {
	tungsten, _ := spectrum.Illuminant("A")
	day, _ := spectrum.Illuminant("D65")
	half := spectrum.Flat(0.5)
	s := &scene.Scene{Emitters: make([]scene.Emitter, 2), Openings: []scene.Opening{{Gel: half}}}
	x, y, z := s.TristimulusWeights([]scene.Dial{
		{Level: 0.25, Light: tungsten, Gel: scene.Clear},
		{Level: 1, Light: day, Gel: scene.Clear},
	})
	img := flat(3, 2, grey(0.4), grey(0.4*800/math.Pi), grey(0.4*100/math.Pi))
	img.Layers[0].Column = s.Column(0, -1)
	img.Layers[1].Column = s.Column(1, 0) // came in by the gelled opening
	for _, p := range Compose(img, Weights{x, y, z}).Pixels {
		near(t, "luminance", p.Y, 0.4*(0.25*800+0.5*100)/math.Pi, 1e-5)
	}
	img.Layers = img.Layers[1:]
	got := Compose(img, Weights{x, y, z}).Pixels[0].Chromaticity()
	near(t, "x of D65", got.X, 0.31272, 2e-5) // [CIE15], table T.3
	near(t, "y of D65", got.Y, 0.32903, 2e-5)
}

func TestLayersAddUp(t *testing.T) {
	img := noisy(synthetic(64, 36), 4, 1)
	all := Compose(img, dials(1, 0.5, 2, 1, 1))
	sum := make([]colour.XYZ, len(all.Pixels))
	for l, level := range []float64{1, 0.5, 2, 1, 1} {
		alone := make([]float64, 5)
		alone[l] = level
		for i, p := range Compose(img, dials(alone...)).Pixels {
			sum[i] = sum[i].Add(p)
		}
	}
	for i, p := range all.Pixels {
		near(t, "X", p.X, sum[i].X, 1e-9*p.X)
		near(t, "Y", p.Y, sum[i].Y, 1e-9*p.Y)
		near(t, "Z", p.Z, sum[i].Z, 1e-9*p.Z)
	}
}

// cores runs f on so many cores at once.
func cores(n int, f func()) {
	before := runtime.GOMAXPROCS(n)
	defer runtime.GOMAXPROCS(before)
	f()
}

func TestAnyNumberOfCoresGivesTheSameDigits(t *testing.T) {
	img := noisy(synthetic(96, 54), 4, 1)
	var one, many *Composite
	work := func(out **Composite) func() {
		return func() {
			clean, err := Denoise(t.Context(), img)
			if err != nil {
				t.Fatal(err)
			}
			*out = Compose(clean, dials(1, 1, 1, 1, 1))
		}
	}
	cores(1, work(&one))
	cores(7, work(&many))
	if !slices.Equal(one.Pixels, many.Pixels) {
		t.Error("one core and seven differ")
	}
}

func TestImageWithoutItsPixelsPanics(t *testing.T) {
	for name, spoil := range map[string]func(*transport.Image){
		"no size":            func(i *transport.Image) { i.Width = 0 },
		"short albedo":       func(i *transport.Image) { i.Albedo = i.Albedo[1:] },
		"short normal":       func(i *transport.Image) { i.Normal = nil },
		"short depth":        func(i *transport.Image) { i.Depth = nil },
		"short layer":        func(i *transport.Image) { i.Layers[0].Pixels = nil },
		"too much variance":  func(i *transport.Image) { i.Layers[0].Variance = make([]float32, 99) },
		"another size given": func(i *transport.Image) { i.Height++ },
	} {
		t.Run(name, func(t *testing.T) {
			img := flat(2, 2, grey(0.5), grey(1))
			spoil(img)
			defer func() {
				if recover() == nil {
					t.Error("did not panic")
				}
			}()
			Compose(img, dials(1))
		})
	}
}
