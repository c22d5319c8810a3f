package pipeline

import (
	"fmt"
	"math"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/scene"
	"gloam/internal/transport"
)

// built returns a set-up of an example, its surroundings black.
func built(t *testing.T, example, setup string) *scene.Setup {
	t.Helper()
	view, faults := readExample(t, "../../examples/"+example+"/plan.yaml").Setup(setup)
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	s, faults := scene.Build(view, true)
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	return s
}

// spotOf is where a lamp, cloth, opening or metering point of a scene is; the floor is under it.
func spotOf(t *testing.T, s *scene.Scene, name string) geometry.Vector {
	t.Helper()
	for _, e := range s.Emitters {
		if e.Name == name {
			return e.Centre
		}
	}
	for _, o := range s.Openings {
		if o.Name == name {
			return o.Centre
		}
	}
	for _, r := range s.Receivers {
		if r.Name == name {
			return r.Position
		}
	}
	if name == "floor below" {
		return geometry.Vector{}
	}
	return clothOf(t, s, name).centre
}

// TestPlansMeasureAsTheSumsDo holds the distances that the plans' places make against those the sums by hand take.
func TestPlansMeasureAsTheSumsDo(t *testing.T) {
	for _, row := range []struct {
		example, setup, from, to string
		metres, tolerance        float64
		source                   string
	}{
		{"ferry", "18:35", "approach 0.00 m", "approach 10.00 m", 10, 0.01, "S1"},
		{"luthier", "dusk", "key lamp", "key frame", 1.0, 0.01, "S2"},
		{"luthier", "dusk", "key frame", "luthier.key side", 1.5, 0.01, "S2"},
		{"luthier", "dusk", "fill lamp", "card", 1.5, 0.01, "S2"},
		{"luthier", "dusk", "card", "luthier.shadow side", 2.2, 0.01, "S2"},
		{"luthier", "dusk", "globe", "luthier.front", 0.9, 0.01, "S2"},
		{"chess", "muslin", "muslin lamp 1", "muslin", 4.0, 0.1, "S3 a"},
		{"chess", "muslin", "muslin", "lit side", 3.0, 0.01, "S3 a"},
		{"chess", "one lamp", "lamp 1", "lit side", 5.0, 0.01, "S3 c"},
		{"archive", "book", "book lamp", "bounce", 2.61, 0.01, "S4.1"},
		{"archive", "book", "diffusion", "reader.key side", 2.5, 0.02, "S4"},
		{"archive", "quiet, at 2.2 m", "diffusion", "reader.key side", 2.2, 0.02, "S4.6"},
		{"archive", "quiet, at 2.3 m", "diffusion", "reader.key side", 2.3, 0.02, "S4.6"},
		{"archive", "book", "fill", "reader.front", 4.0, 0.01, "S4"},
		{"archive", "book alone", "diffusion", "wall behind", 4.5, 0.02, "S4.5"},
		{"barn", "empty", "sun lamp", "window", 10.39, 0.01, "S5.1"},
		{"barn", "empty", "window", "beam", 6.0, 0.02, "S5.1"},
		{"office", "16:00", "lamp", "frame", 1.2, 0.01, "S6"},
		{"office", "16:00", "frame", "analyst.key side", 3.0, 0.01, "S6"},
		{"snow", "lamp", "lamp", "face", 3.05, 0.01, "S7.5"},
		{"snow", "board", "board", "face", 2.44, 0.01, "S7.5"},
		{"snow", "black", "black", "face", 1.22, 0.01, "S7.6"},
	} {
		s := built(t, row.example, row.setup).Scene
		if d := spotOf(t, s, row.to).Sub(spotOf(t, s, row.from)).Length(); !(math.Abs(d-row.metres) <= row.tolerance) {
			t.Errorf("%s, %s: %s to %s is %.3f m, by hand %.2f (%s)", row.example, row.setup, row.from, row.to, d, row.metres, row.source)
		}
	}
}

// TestSunsStandAsTheSumsSay holds the height of lamps that play the sun against its height in the sky.
func TestSunsStandAsTheSumsSay(t *testing.T) {
	for _, row := range []struct {
		example, setup string
		metres         float64
		source         string
	}{
		{"ferry", "18:35", 3.28, "S1.7: 1.6 + 24 tan 4°"},
		{"barn", "empty", 8.20, "S5.1: 3.0 + 9 tan 30°"},
	} {
		if z := spotOf(t, built(t, row.example, row.setup).Scene, "sun lamp").Z; !(math.Abs(z-row.metres) <= 0.005) {
			t.Errorf("%s: the lamp is %.2f m high, want %.2f (%s)", row.example, z, row.metres, row.source)
		}
	}
}

// flat is a piece of cloth: its centre, its half sides, the way its front faces.
type flat struct{ centre, u, v, front geometry.Vector }

func clothOf(t *testing.T, s *scene.Scene, name string) flat {
	t.Helper()
	for _, surface := range s.Surfaces {
		if surface.Name != name || surface.Cloth < 0 {
			continue
		}
		m := surface.Mesh
		a, b, c := m.Corners(0)
		corner := b // the right angle lies at one of the three
		switch {
		case math.Abs(b.Sub(a).Dot(c.Sub(a))) < 1e-9:
			a, corner = b, a
		case math.Abs(a.Sub(c).Dot(b.Sub(c))) < 1e-9:
			c, corner = b, c
		}
		u, v := a.Sub(corner).Mul(0.5), c.Sub(corner).Mul(0.5)
		p, q, r := m.Corners(0)
		return flat{corner.Add(u).Add(v), u, v, q.Sub(p).Cross(r.Sub(p)).Unit()}
	}
	t.Fatalf("no cloth %q", name)
	return flat{}
}

// trace returns the levels at extra receivers in a set-up.
func trace(t *testing.T, s *scene.Setup, receivers []scene.Receiver) (levels []float64) {
	t.Helper()
	alone := *s.Scene
	alone.Receivers = receivers
	weights := alone.Weights(s.Dials)
	layers, err := transport.Trace(t.Context(), &alone, transport.Request{Seed: 1, Goal: 0.01, MostPaths: 1 << 18, Weights: weights})
	if err != nil {
		t.Fatal(err)
	}
	for i := range layers.Points {
		level, _ := layers.Points[i].Level(weights)
		levels = append(levels, level)
	}
	return levels
}

// TestMeansOnCloths holds the mean level on the lamp's side of cloths against the sums by hand, with the lamp at full.
func TestMeansOnCloths(t *testing.T) {
	for _, row := range []struct {
		example, setup, cloth, lamp string
		back                        bool    // the lamp lights the back
		lux, area                   float64 // area 1 where the sum is a mean and not a flux
		within                      float64 // stops
		source                      string
	}{
		{"luthier", "ND 1.5", "key frame", "key lamp", true, 18_200, 1, 0.05, "S2.2: 0.492 of the axis"},
		{"luthier", "dusk", "card", "fill lamp", false, 3423, 1, 0.15, "S2.4; the lamp stands 20° aside"},
		{"chess", "muslin", "muslin", "muslin lamp 1", false, 54_300, 3.6 * 3.6, 0.05, "S3.1: flux"},
		{"archive", "no flag", "bounce", "book lamp", false, 44_600, 2.4 * 2.4, 0.05, "S4.1: flux; the soft edge of the flag takes 0.07"},
		{"archive", "book alone", "diffusion", "book lamp", true, 2970, 1, 0.15, "S4.1: F 0.48"},
		{"archive", "no flag, no bounce", "diffusion", "book lamp", true, 9930, 2.4 * 2.4, 0.05, "S4.7: flux"},
		{"office", "16:00, lamp alone", "frame", "lamp", true, 15_100 * 0.933, 1, 0.05, "S6.5"},
	} {
		t.Run(row.example+" "+row.cloth+" "+row.setup, func(t *testing.T) {
			s := built(t, row.example, row.setup)
			for e := range s.Scene.Emitters {
				if s.Scene.Emitters[e].Name != row.lamp {
					s.Dials[e].Level = 0
				}
			}
			for _, lamp := range s.Lamps {
				s.Dials[lamp.Emitter].Level /= float64(lamp.Dim)
			}
			levels := trace(t, s, over(clothOf(t, s.Scene, row.cloth), row.back))
			sum := 0.0
			for _, level := range levels {
				sum += level
			}
			mean := sum / float64(len(levels))
			if off := math.Log2(mean * row.area / row.lux); !(math.Abs(off) <= row.within) {
				t.Errorf("%.0f lx, by hand %.0f: %+.2f stop off (%s)", mean, row.lux/row.area, off, row.source)
			}
		})
	}
}

// over is a grid of receivers over one side of a cloth.
func over(f flat, back bool) (receivers []scene.Receiver) {
	const side, away = 9, 0.001
	facing := f.front
	if back {
		facing = facing.Neg()
	}
	for i := range side {
		for j := range side {
			x, y := (2*float64(i)+1)/side-1, (2*float64(j)+1)/side-1
			receivers = append(receivers, scene.Receiver{Name: fmt.Sprint(i, " ", j), Kind: scene.Flat, Normal: facing,
				Position: f.centre.AddMul(x, f.u).AddMul(y, f.v).AddMul(away, facing)})
		}
	}
	return receivers
}

// TestPatchOnTheBarnFloor holds the edges of the window's patch against S5.5: at an edge half the lamp's opening is seen,
// so the level there is half of what the bare lamp would give.
func TestPatchOnTheBarnFloor(t *testing.T) {
	s := built(t, "barn", "empty")
	s.Scene.Haze = nil // which adds its own glow to both sides of an edge
	lamp := &s.Scene.Emitters[0]
	var receivers []scene.Receiver
	for _, edge := range []struct {
		name string
		x, y float64
	}{
		{"near end", 3.73, 4}, {"far end", 7.05, 4},
		// The width grows evenly from 1.27 m at the near end to 1.60 m at the far end.
		{"left, near", 4.2, 4 + 1.32/2}, {"right, near", 4.2, 4 - 1.32/2},
		{"left, far", 6.5, 4 + 1.545/2}, {"right, far", 6.5, 4 - 1.545/2},
	} {
		receivers = append(receivers, scene.Receiver{Name: edge.name, Kind: scene.Flat, Normal: geometry.Up,
			Position: geometry.Vector{X: edge.x, Y: edge.y, Z: 0.001}})
	}
	for i, level := range trace(t, s, receivers) {
		way := receivers[i].Position.Sub(lamp.Centre)
		bare := lamp.Beam.At(lamp.Basis.In(way.Unit())) * float64(s.Lamps[0].Dim) * -way.Unit().Z / way.Dot(way)
		if off := math.Log2(level / (bare / 2)); !(math.Abs(off) <= 0.15) {
			t.Errorf("%s: %.1f lx, half of the bare lamp %.1f: %+.2f stop off", receivers[i].Name, level, bare/2, off)
		}
	}
}
