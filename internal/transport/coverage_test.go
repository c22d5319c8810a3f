package transport

import (
	"math"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/photometry"
	"gloam/internal/scene"
	"gloam/internal/unit"
)

// exact is a scene whose receivers' levels are known to five digits.
type exact struct {
	name  string
	scene *scene.Scene
	want  []float64
}

// exactScenes hold a lamp bounced, a lamp through diffusion, sky through a window and a room that absorbs nothing, each
// with five receivers: matt sheets by quadrature, the window by a closed form, the room by its balance.
func exactScenes() []exact {
	frame := sheetFacing(vec{}, toX, 1.2, 1.2)
	lamp, beam := vec{X: 2, Y: 0.3}, photometry.Bell(20000, 60)
	spot := spotlight(lamp, lamp.Neg(), beam)
	sheet := func(share float64, from, _ vec) float64 {
		return share / math.Pi * frame.levelFrom(lamp, from, beam.At(spot.Basis.In(from.Sub(lamp).Unit())))
	}
	bounced := exact{name: "bounce", scene: scenery([]scene.Surface{frame.surface(bounce(0.8))}, spot)}
	diffused := exact{name: "diffusion", scene: scenery([]scene.Surface{frame.surface(heavy(0.4))}, spot)}
	wall, opening := hole(vec{Z: 0.75}, vec{Y: -1}, 2, 1.5, scene.Void())
	window := exact{name: "window", scene: scenery(wall, sky(false))}
	window.scene.Openings = []scene.Opening{opening}
	white := closedRoom(vec{X: 4, Y: 3, Z: 2}, 1, 0, 1)
	lid := board(vec{X: 2, Y: 1.5, Z: 2}, down, 4, 3, scene.Void())
	lid.Opening = 0
	furnace := exact{name: "furnace", scene: scenery(append(white[2:], white[0], lid), sky(false))}
	furnace.scene.Openings = []scene.Opening{{Centre: vec{X: 2, Y: 1.5, Z: 2}, U: vec{X: 2}, V: vec{Y: 1.5}, Gel: scene.Clear}}
	for k := range 5 {
		x := float64(k)
		at := vec{X: 2.2 + 0.3*x, Y: -0.9 + 0.1*x, Z: 0.2 * x} // before the frame, turned to it
		bounced.ask(flatAt(at, at.Neg()), frame.lights(at, at.Neg(), 30, func(from, to vec) float64 { return sheet(0.8, from, to) }))
		at = vec{X: -0.8 - 0.4*x, Y: 0.2 * x, Z: 0.3} // behind it
		diffused.ask(flatAt(at, toX), frame.lights(at, toX, 30, func(from, to vec) float64 { return sheet(0.4, from, to) }))
		d := 1 + 0.7*x
		window.ask(flatAt(vec{Y: -d}, geometry.Up), 2*math.Pi*float64(photometry.ElementRectanglePerpendicular(1, 1.5, unit.Metre(d))))
		furnace.ask(flatAt(vec{X: 1 + 0.4*x, Y: 1, Z: 0.3}, tilted(70*x)), math.Pi)
	}
	return []exact{bounced, diffused, window, furnace}
}

func (e *exact) ask(r scene.Receiver, want float64) {
	e.scene.Receivers, e.want = append(e.scene.Receivers, r), append(e.want, want)
}

// The interval of sampling, ±1.96 standard errors, holds the truth for 93 to 98 % of 2,000 results: with a fixed number
// of paths, and where the run stops as soon as it believes itself sure enough. 32 batches alone would make it 94 %
// (Student's distribution).
func TestCoverageOfTheInterval(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	const seeds = 100
	for _, row := range []struct {
		name string
		sure float64 // stop
		most int
	}{{"256 paths", 0, 256}, {"1,024 paths", 0, 1024}, {"until sure", 0.02, 1 << 14}} {
		t.Run(row.name, func(t *testing.T) {
			inside, all := 0, 0
			var bias, spread float64 // of errors in standard errors
			for _, e := range exactScenes() {
				held, asked := 0, 0
				for seed := range uint32(seeds) {
					for i, p := range traced(t, e.scene, 100+seed, row.sure, row.most).Points {
						level, stderr := p.Level(evenly(e.scene))
						z := (level - e.want[i]) / stderr
						bias, spread = bias+z, spread+z*z
						if math.Abs(z) <= 1.96 {
							held++
						}
						asked++
					}
				}
				share := float64(held) / float64(asked)
				t.Logf("%s: %.1f %% of %d inside", e.name, 100*share, asked)
				if share < 0.90 || share > 0.99 { // 500 results, five to a seed
					t.Errorf("%s: %.1f %% inside", e.name, 100*share)
				}
				inside, all = inside+held, all+asked
			}
			share, n := float64(inside)/float64(all), float64(all)
			t.Logf("%.2f %% of %d inside; mean error %.3f, root mean square %.3f standard errors", 100*share, all, bias/n, math.Sqrt(spread/n))
			if share < 0.93 || share > 0.98 || all < 2000 {
				t.Errorf("%.2f %% of %d inside", 100*share, all)
			}
		})
	}
}

// The reference without light paths knows the same answers.
func TestPlainTracingKnowsTheAnswers(t *testing.T) {
	for _, e := range exactScenes() {
		t.Run(e.name, func(t *testing.T) {
			l, err := Trace(t.Context(), e.scene, Request{Seed: 1, Goal: 0.01, MostPaths: 1 << 16, Weights: evenly(e.scene), Plain: true})
			if err != nil {
				t.Fatal(err)
			}
			for i, p := range l.Points {
				got, stderr := p.Level(evenly(e.scene))
				compare(t, e.scene.Receivers[i].Name, got, stderr, e.want[i], 1e-5)
				if stderr > 0.02*got {
					t.Errorf("standard error %.2g", stderr/got)
				}
			}
		})
	}
}
