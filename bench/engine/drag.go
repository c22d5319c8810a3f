package main

import (
	"context"
	"fmt"
	"math"
	"slices"

	"gloam/bench/study"
	"gloam/internal/geometry"
	"gloam/internal/scene"
	"gloam/internal/transport"
)

// poses is how many new stands of each lamp a drag is measured over.
const poses = 4

// drag shows what a moved lamp costs when the walks of the points are looked at anew: stands up to 0.25 m and 10° from
// where each lamp stood, beside long traces of each.
func drag() {
	s := study.Room()
	w := weights(s)
	q := transport.Request{Seed: 1, Weights: w, Goal: within, MostPaths: 1 << 20, Keep: 64}
	_, l, _ := run(s, q)
	fmt.Println("\n| moved lamp | CPU s (in 10^6 plain rays) | of its layer within 0.1 stop | of totals |\n|---|---|---|---|")
	for e := range 4 {
		var seconds float64
		var layers, totals, n int
		for pose := range poses {
			to := shifted(s, e, pose)
			start := study.CPU()
			got, err := l.Moved(context.Background(), to, []int{e}, q)
			if err != nil {
				panic(err)
			}
			seconds += study.CPU() - start
			_, want, _ := run(to, transport.Request{Seed: 7, Weights: w, Goal: 1e-9, MostPaths: 1 << 13})
			for i := range got.Points {
				n++
				layers += near(got, want, i, func(p *transport.Point) float64 { x, _ := p.LevelOf(w, to.ColumnsOf(e)...); return x })
				totals += near(got, want, i, func(p *transport.Point) float64 { x, _ := p.Level(w); return x })
			}
		}
		fmt.Printf("| %s | %s | %.1f %% | %.1f %% |\n", s.Emitters[e].Name, time(seconds/poses), 100*float64(layers)/float64(n), 100*float64(totals)/float64(n))
	}
}

// near reports, as 0 or 1, whether two layers agree at a point to 0.1 stop.
func near(a, b *transport.Layers, point int, of func(*transport.Point) float64) int {
	if math.Abs(math.Log2(of(&a.Points[point])/of(&b.Points[point]))) <= 0.1 {
		return 1
	}
	return 0
}

// shifted is the study with a lamp stood and aimed anew.
func shifted(s *scene.Scene, emitter, pose int) *scene.Scene {
	to := *s
	to.Emitters = slices.Clone(s.Emitters)
	e := &to.Emitters[emitter]
	turn := 2 * math.Pi * float64(pose) / poses
	by := 0.25
	if e.Beam == nil {
		by = 0.08 // the bulb stays inside its shade
	}
	e.Centre = e.Centre.Add(geometry.Vector{X: by * math.Cos(turn), Y: by * math.Sin(turn)})
	if e.Beam != nil {
		aside := e.Basis.X.Mul(math.Cos(3*turn)).AddMul(math.Sin(3*turn), e.Basis.Y)
		e.Basis = geometry.About(e.Basis.Z.AddMul(0.17*float64(pose)/poses, aside).Unit())
	}
	return &to
}
