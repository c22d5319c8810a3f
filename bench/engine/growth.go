package main

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	clock "time"

	"gloam/bench/study"
	"gloam/internal/geometry"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
	"gloam/internal/transport"
)

// moved shows what it takes to follow a thing that casts shadows: traced anew, with the trees of all that still stands.
func moved() {
	fmt.Println("\n| moved thing | wall ms, every total within 0.1 stop at 95 % | CPU s (in 10^6 plain rays) | of totals within 0.1 stop |\n|---|---|---|---|")
	for _, row := range []struct {
		name  string
		place func(s *scene.Scene, by float64)
	}{
		{"the white frame", func(s *scene.Scene, by float64) { shift(s, "white frame", geometry.Vector{X: by, Y: by / 2}) }},
		{"the muslin", func(s *scene.Scene, by float64) { shift(s, "muslin", geometry.Vector{X: by / 2, Y: by}) }},
		{"a ball of 6,000 triangles, as a person has", func(s *scene.Scene, by float64) { ball(s, geometry.Vector{X: 3 + by, Y: 2.4, Z: 1.2}) }},
	} {
		at := func(by float64) *scene.Scene { s := study.Room(); row.place(s, by); return s }
		s := at(0)
		q := transport.Request{Seed: 1, Weights: weights(s), Goal: within, MostPaths: 1 << 20, Keep: 64}
		_, q.Like, _ = run(s, q)
		var wall, cpu float64
		var good, n int
		for pose := range poses {
			to := at(0.1 * float64(pose+1))
			start := clock.Now()
			t, got, _ := run(to, q)
			wall += clock.Since(start).Seconds()
			cpu += t
			_, want, _ := run(to, transport.Request{Seed: 7, Weights: q.Weights, Goal: 0.01, MostPaths: 1 << 15})
			for i := range got.Points {
				n++
				good += near(got, want, i, func(p *transport.Point) float64 { x, _ := p.Level(q.Weights); return x })
			}
		}
		fmt.Printf("| %s | %.0f | %s | %.1f %% |\n", row.name, 1000*wall/poses, time(cpu/poses), 100*float64(good)/float64(n))
	}
}

// shift moves a surface.
func shift(s *scene.Scene, name string, by geometry.Vector) {
	for i := range s.Surfaces {
		if s.Surfaces[i].Name == name {
			m := &s.Surfaces[i].Mesh
			m.Positions = slices.Clone(m.Positions)
			for k := range m.Positions {
				m.Positions[k] = m.Positions[k].Add(by)
			}
		}
	}
}

// ball puts a ball of 6,000 triangles into the room.
func ball(s *scene.Scene, at geometry.Vector) { clutter(s, at, 0.25, 50, 61) }

func clutter(s *scene.Scene, at geometry.Vector, radius float64, rings, sides int) {
	var half spectrum.Band
	for b := range half {
		half[b] = 0.5
	}
	m := geometry.Sphere(radius, rings, sides).Transform(geometry.About(geometry.Up), at, 1)
	s.Surfaces = append(s.Surfaces, scene.Surface{Name: "ball", Mesh: m, Optics: scene.Matt(half), Cloth: -1, Opening: -1})
}

// triangles shows how cost and memory grow with what stands on the floor: balls of a thousand triangles.
func triangles() {
	fmt.Println("\n| triangles | CPU s, every total within 0.1 stop at 95 %, building included | most memory so far, MB |\n|---|---|---|")
	for _, balls := range []int{0, 2, 20, 200, 2000} {
		s := study.Room()
		for i := range balls {
			x, y := math.Mod(float64(i)*0.618034, 1), (float64(i)+0.5)/float64(balls)
			clutter(s, geometry.Vector{X: 0.3 + 5.4*x, Y: 0.3 + 4.4*y, Z: 0.1}, 0.04, 22, 24)
		}
		n := 0
		for i := range s.Surfaces {
			n += len(s.Surfaces[i].Mesh.Triangles)
		}
		t, _, _ := run(s, transport.Request{Seed: 1, Weights: weights(s), Goal: within, MostPaths: 1 << 20})
		fmt.Printf("| %d | %s | %s |\n", n, time(t), peak())
	}
}

// peak is the most memory the process has held, where the system tells.
func peak() string {
	text, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return "unknown"
	}
	_, after, _ := strings.Cut(string(text), "VmHWM:")
	fields := strings.Fields(after)
	if len(fields) == 0 {
		return "unknown"
	}
	var kB float64
	fmt.Sscan(fields[0], &kB)
	return fmt.Sprintf("%.0f", kB/1024)
}
