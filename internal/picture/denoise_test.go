package picture

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"gloam/internal/spectrum"
	"gloam/internal/transport"
)

func denoised(t *testing.T, img *transport.Image) *transport.Image {
	t.Helper()
	out, err := Denoise(t.Context(), img)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// rms returns the root mean square of the stops between two pictures, and of their means. What is more than eight stops
// below grey is as good as black.
func rms(a, b *Composite) (stops, means float64) {
	floor := 0.18 * float64(testCamera.Key()) / math.Pi / 256
	var squares, sumA, sumB float64
	for i := range a.Pixels {
		d := math.Log2((a.Pixels[i].Y + floor) / (b.Pixels[i].Y + floor))
		squares += d * d
		sumA += a.Pixels[i].Y
		sumB += b.Pixels[i].Y
	}
	return math.Sqrt(squares / float64(len(a.Pixels))), math.Log2(sumA / sumB)
}

// The error against the known truth, for all layers together and for each alone. The bounds are what we measured with a
// little room: guards against getting worse, but that the error falls at all is the proof.
func TestDenoiseTakesNoiseOff(t *testing.T) {
	if testing.Short() {
		t.Skip("long under the race detector")
	}
	truth := synthetic(240, 135)
	weights := []Weights{dials(1, 1, 1, 1, 1)}
	for l := range truth.Layers {
		alone := make([]float64, 5)
		alone[l] = 1
		weights = append(weights, dials(alone...))
	}
	for _, c := range []struct {
		name   string
		paths  int
		all    float64 // least factor by which the error of the sum falls
		each   float64 // least factor by which that of a layer falls
		darker float64 // most stops by which the mean of the sum may change
	}{
		{"a first look", 1, 3.9, 1.0, 0.02},
		{"a preview", 4, 3.8, 1.4, 0.01},
		{"a picture", 16, 3.6, 1.2, 0.005},
		{"a fine picture", 64, 3.0, 0.9, 0.005}, // the back light's thin rims are then as well off without
	} {
		t.Run(c.name, func(t *testing.T) {
			raw := noisy(truth, c.paths, 7)
			clean := denoised(t, raw)
			for l, w := range weights {
				want := Compose(truth, w)
				before, _ := rms(Compose(raw, w), want)
				after, means := rms(Compose(clean, w), want)
				factor := c.each
				if l == 0 {
					factor = c.all
					near(t, "mean in stops", means, 0, c.darker)
				}
				t.Logf("weights %d: %.3f stops become %.3f, mean %+.4f", l, before, after, means)
				if after*factor > before {
					t.Errorf("weights %d: %.3f stops become %.3f, want %.1f times less", l, before, after, factor)
				}
			}
		})
	}
}

// On a flat field no edge holds light back: the mean stays within 1 %, though the noise is skewed, and the grain all but
// goes.
func TestDenoiseKeepsTheMeanOfAFlatField(t *testing.T) {
	if testing.Short() {
		t.Skip("long under the race detector")
	}
	truth := flat(200, 120, skin, skin.Scale(100), skin.Scale(3))
	truth.Layers[1].Column = 1
	for _, paths := range []int{2, 4, 8, 16, 64} {
		raw := noisy(truth, paths, 5)
		clean := denoised(t, raw)
		want, was, got := Compose(truth, dials(1, 1)), Compose(raw, dials(1, 1)), Compose(clean, dials(1, 1))
		before, _ := rms(was, want)
		_, means := rms(got, was)
		t.Logf("%d paths: mean %+.4f stops", paths, means)
		near(t, "mean in stops", means, 0, math.Log2(1.01))
		if after, _ := rms(got, want); after*6 > before {
			t.Errorf("%d paths: %.3f stops become %.3f", paths, before, after)
		}
	}
}

// What lies beyond an edge of the surfaces has no part: made brighter by two stops, which such noise would explain, it
// leaves this side as it was.
func TestDenoiseKeepsEdges(t *testing.T) {
	for name, differ := range map[string]func(img *transport.Image, i int){
		"in depth":  func(img *transport.Image, i int) { img.Depth[i] *= 1.2 },
		"in normal": func(img *transport.Image, i int) { img.Normal[i] = [3]float32{0.6, -0.8, 0} },
		"in albedo": func(img *transport.Image, i int) { img.Albedo[i] = narrow(grey(0.2)) },
		"in the albedo of long waves": func(img *transport.Image, i int) {
			img.Albedo[i] = narrow(spectrum.Band{0.4, 0.4, 0.4, 0.4, 0.4, 0.2, 0.2, 0.2})
		},
	} {
		t.Run(name, func(t *testing.T) {
			var sides [2]*transport.Image
			for k, beyond := range []float64{10, 40} {
				truth := flat(120, 60, grey(0.4), grey(10))
				for i := range truth.Depth {
					if i%120 >= 60 {
						truth.Layers[0].Pixels[i] = narrow(grey(beyond))
						differ(truth, i)
					}
				}
				sides[k] = denoised(t, noisy(truth, 4, 9))
			}
			for i, p := range sides[0].Layers[0].Pixels {
				q := sides[1].Layers[0].Pixels[i]
				if want := float64(p[3]); i%120 < 60 {
					near(t, "this side", float64(q[3]), want, 1e-3*want)
				} else {
					near(t, "beyond", float64(q[3]), 4*want, 4e-3*want)
				}
			}
		})
	}
}

// A slope seen at a flat angle is one surface: its depth changes, but as its slope says.
func TestDenoiseWorksOnASlope(t *testing.T) {
	truth := flat(160, 90, grey(0.4), grey(40))
	for i := range truth.Depth {
		truth.Depth[i] = 2 + 0.2*float32(i%160)
	}
	raw := noisy(truth, 16, 3)
	before, _ := rms(Compose(raw, dials(1)), Compose(truth, dials(1)))
	after, _ := rms(Compose(denoised(t, raw), dials(1)), Compose(truth, dials(1)))
	if after*5 > before {
		t.Errorf("%.3f stops become %.3f", before, after)
	}
}

// A lamp's shadow edge stays, even while another lamp drowns it in light and noise: the lamp may be dialled up alone.
func TestDenoiseKeepsAShadowOfEveryLayer(t *testing.T) {
	truth := flat(120, 60, grey(0.4), grey(40), grey(40))
	truth.Layers[1].Column = 1
	for i := range truth.Depth {
		if i%120 >= 60 {
			truth.Layers[1].Pixels[i] = narrow(grey(0.5))
		}
	}
	raw := noisy(truth, 16, 4)
	raw.Layers[1] = truth.Layers[1] // as of a lamp that is found by every path
	clean := denoised(t, raw)
	for i, p := range clean.Layers[1].Pixels {
		if want := float64(truth.Layers[1].Pixels[i][0]); math.Abs(float64(p[0])/want-1) > 0.05 {
			t.Fatalf("pixel %d: %v, want %v", i, p[0], want)
		}
	}
}

func TestDenoiseLeavesWhatIsSeenDirectly(t *testing.T) {
	raw := noisy(synthetic(160, 90), 4, 2)
	clean := denoised(t, raw)
	count := 0
	for i := range raw.Albedo {
		if !direct(&raw.Albedo[i]) {
			continue
		}
		count++
		for l := range raw.Layers {
			for b, was := range raw.Layers[l].Pixels[i] {
				near(t, "what is seen directly", float64(clean.Layers[l].Pixels[i][b]), float64(was), 1e-5*float64(was))
			}
		}
	}
	if count == 0 {
		t.Fatal("nothing is seen directly")
	}
	// Nor does their light, a thousand times the wall's, reach the wall beside.
	img := flat(40, 40, grey(0.5), grey(1))
	for i := range img.Albedo {
		if i%40 < 10 {
			img.Albedo[i], img.Layers[0].Pixels[i] = narrow(grey(1)), narrow(grey(1000))
		}
		img.Layers[0].Variance[i] = 1e6
	}
	for i, p := range denoised(t, img).Layers[0].Pixels {
		if i%40 >= 10 {
			near(t, "the wall", float64(p[0]), 1, 1e-5)
		}
	}
}

// What has no noise is hardly changed, and its input not at all.
func TestDenoiseOfNoNoise(t *testing.T) {
	truth := synthetic(160, 90)
	truth.Samples = 1024
	kept := slices.Clone(truth.Layers[0].Pixels)
	clean := denoised(t, truth)
	if stops, _ := rms(Compose(clean, dials(1, 1, 1, 1, 1)), Compose(truth, dials(1, 1, 1, 1, 1))); stops > 0.02 {
		t.Errorf("changed by %.3f stops", stops)
	}
	if !slices.Equal(kept, truth.Layers[0].Pixels) {
		t.Error("the input was written to")
	}
	if clean.Layers[0].Variance != nil || clean.Layers[2].Name != "back light" || clean.Layers[2].Column != 2 {
		t.Error("the layers' names, columns or variances are not as they should be")
	}
}

// Darkness, black surfaces and layers without light stay finite.
func TestDenoiseOfDarkness(t *testing.T) {
	img := flat(20, 20, spectrum.Band{}, spectrum.Band{}, grey(1))
	img.Layers[1].Column = 1
	for i := range img.Depth {
		if i%7 == 0 {
			img.Depth[i], img.Normal[i] = float32(math.Inf(1)), [3]float32{}
		}
	}
	for _, samples := range []int{1, 16} {
		img.Samples = samples
		for l, want := range []float64{0, 1} {
			for _, p := range denoised(t, img).Layers[l].Pixels {
				near(t, "pixel", float64(p[0]), want, 1e-5)
			}
		}
	}
}

func TestDenoiseStopsWhenTold(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := Denoise(ctx, flat(4, 4, grey(0.5), grey(1))); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

// (1 - x/16)^16 lies under exp(-x), by no more than 0.02.
func TestDecayIsNearlyExponential(t *testing.T) {
	for x := 0.0; x < 20; x += 0.01 {
		got, want := float64(decay(float32(x))), math.Exp(-x)
		if got > want+1e-6 || got < want-0.02 {
			t.Fatalf("decay of %.2f is %v, exp %v", x, got, want)
		}
	}
}
