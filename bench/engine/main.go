// Command engine measures the layers: how long the study room takes to each goal, light paths against plain path
// tracing, and how the cost grows. It prints Markdown; docs/performance.md holds one run.
//
//	go run ./bench/engine
package main

import (
	"context"
	"fmt"
	"runtime"

	"gloam/bench/study"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

// within is the standard error that keeps a figure within 0.1 stop at 95 %.
const within unit.Stop = 0.1 / 1.96

func main() {
	rays = study.PlainRays(study.Room())
	fmt.Printf("%s, %d cores, %s; 10^6 rays with the plain kernel: %.3f CPU s\n\n", runtime.Version(), runtime.NumCPU(), study.Processor(), rays)
	goals()
	frame()
	emitters()
	points()
	drag()
	moved()
	triangles()
}

// rays is the processor time of 10^6 rays with the plain kernel, s: what times are divided by.
var rays float64

// time is processor time in seconds and, in brackets, in 10^6 plain rays.
func time(seconds float64) string { return fmt.Sprintf("%.3f (%.2f)", seconds, seconds/rays) }

// weights dims the study's sources to what a set-up would have.
func weights(s *scene.Scene) []spectrum.Band {
	w := make([]spectrum.Band, s.Columns())
	for e := range s.Emitters {
		for _, c := range s.ColumnsOf(e) {
			for b := range w[c] {
				w[c][b] = study.Levels[s.Emitters[e].Source] / spectrum.Bands
			}
		}
	}
	return w
}

// run traces and returns the processor time, the layers and the paths traced.
func run(s *scene.Scene, q transport.Request) (seconds float64, l *transport.Layers, paths int) {
	start := study.CPU()
	l, err := transport.Trace(context.Background(), s, q)
	if err != nil {
		panic(err)
	}
	for i := range l.Points {
		paths += l.Points[i].Paths
	}
	return study.CPU() - start, l, paths
}

// repeats is how many seeds a figure is the middle of.
const repeats = 5

func goals() {
	fmt.Println("| goal: within 0.1 stop at 95 %, 10 points, 5 layers | CPU s (in 10^6 plain rays) | paths |\n|---|---|---|")
	for _, g := range []struct {
		name  string
		share float64
		layer unit.Stop
	}{{"every total", 0, 0}, {"every layer above 5 % of its total", 0.05, within}, {"every layer above 1 %", 0.01, within}} {
		var seconds, paths [repeats]float64
		for i := range repeats {
			s := study.Room()
			t, _, n := run(s, transport.Request{Seed: uint32(i), Weights: weights(s), Goal: within, LayerGoal: g.layer, LayerShare: g.share, MostPaths: 1 << 20})
			seconds[i], paths[i] = t, float64(n)
		}
		fmt.Printf("| %s | %s | %.0f |\n", g.name, time(middle(seconds)), middle(paths))
	}
	fmt.Println()
}

// frame compares each lamp's layer at equal error: processor time × variance, plain over joined.
func frame() {
	s := study.Room()
	w := weights(s)
	fmt.Println("| layer | plain: SE, stop | with light paths: SE, stop | cheaper at equal error |\n|---|---|---|---|")
	plainTime, plain, _ := run(s, transport.Request{Seed: 1, Weights: w, Goal: 1e-9, MostPaths: 1 << 16, Plain: true})
	joinedTime, joined, _ := run(s, transport.Request{Seed: 1, Weights: w, Goal: 1e-9, MostPaths: 1 << 14})
	for e := range s.Emitters {
		a, b := rms(s, plain, w, e), rms(s, joined, w, e)
		fmt.Printf("| %s | %.4f | %.4f | %.1f x |\n", s.Emitters[e].Name, a, b, plainTime*a*a/(joinedTime*b*b))
	}
	fmt.Printf("\nplain %s CPU s for 2^16 paths a point, with light paths %s for 2^14\n\n", time(plainTime), time(joinedTime))
}

// rms is the root mean square over the points of an emitter's standard error in stops.
func rms(s *scene.Scene, l *transport.Layers, w []spectrum.Band, e int) float64 {
	var sum float64
	for i := range l.Points {
		m, se := l.Points[i].LevelOf(w, s.ColumnsOf(e)...)
		x := float64(transport.StopError(m, se))
		sum += x * x
	}
	return sqrt(sum / float64(len(l.Points)))
}

// emitters shows how the cost grows from 5 emitters to 60: the room's lamps again and again, each at its own level.
func emitters() {
	fmt.Println("| emitters | CPU s for 2^13 paths a point | mean SE of a layer, stop |\n|---|---|---|")
	for _, n := range []int{5, 20, 60} {
		s := study.Room()
		for i := 5; i < n; i++ {
			e := s.Emitters[i%4]
			e.Name = fmt.Sprint(e.Name, " ", i)
			e.Centre.X += 0.05 * float64(i%7-3)
			s.Emitters = append(s.Emitters, e)
		}
		w := weights(s)
		t, l, _ := run(s, transport.Request{Seed: 1, Weights: w, Goal: 1e-9, MostPaths: 1 << 13})
		sum := 0.0
		for e := range s.Emitters {
			sum += rms(s, l, w, e)
		}
		fmt.Printf("| %d | %s | %.4f |\n", n, time(t), sum/float64(n))
	}
	fmt.Println()
}

// points shows that the cost is linear in the points.
func points() {
	fmt.Println("| points | CPU s, every total within 0.1 stop at 95 % |\n|---|---|")
	for _, n := range []int{1, 10, 50, 200} {
		s := study.Room()
		ten := s.Receivers
		s.Receivers = nil
		for i := range n {
			r := ten[i%10]
			r.Name = fmt.Sprint("point ", i)
			r.Position.X += 0.02 * float64(i/10)
			s.Receivers = append(s.Receivers, r)
		}
		t, _, _ := run(s, transport.Request{Seed: 1, Weights: weights(s), Goal: within, MostPaths: 1 << 20})
		fmt.Printf("| %d | %s |\n", n, time(t))
	}
}
