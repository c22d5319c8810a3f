//go:build linux

package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"sync"
	"sync/atomic"

	"gloam/internal/geometry"
	"gloam/internal/ray"
)

// leak sends so many rays about closed rooms, half of them at corners and edges, and reports those that get out.
func leak(count int) error {
	box := geometry.Box(geometry.Vector{X: 0.3}, geometry.About(geometry.Up), geometry.Vector{X: 6, Y: 5, Z: 2.8})
	ball := geometry.Sphere(3, 60, 120)
	for i, p := range ball.Positions {
		ball.Positions[i] = p.Mul(0.8 + 0.2*math.Abs(noise(p).X))
	}
	leaks := 0
	for _, room := range []struct {
		name string
		mesh geometry.Mesh
	}{{"box", box}, {"bumpy ball", ball}} {
		n := leaksOf(room.mesh, room.name, count/2)
		fmt.Printf("%s, %d triangles: %d of %d rays got out\n", room.name, len(room.mesh.Triangles), n, count/2)
		leaks += n
	}
	if leaks > 0 {
		return fmt.Errorf("%d leaks", leaks)
	}
	return nil
}

func leaksOf(m geometry.Mesh, name string, count int) int {
	positions, triangles := m.Packed()
	tree := ray.Build(positions, triangles)
	const parcel = 1 << 20
	var next, leaks atomic.Int64
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			var s ray.Scratch
			for {
				p := int(next.Add(1) - 1)
				if p*parcel >= count {
					return
				}
				rnd := rand.New(rand.NewPCG(1, uint64(p)))
				for range min(parcel, count-p*parcel) {
					r := aimed(rnd, positions, triangles)
					var h ray.Hit
					if !tree.Nearest(&r, &h, &s) {
						leaks.Add(1)
						fmt.Println("got out:", r)
					}
				}
				if p%50 == 49 {
					fmt.Printf("%s: %d million rays\n", name, (p+1)*parcel/1_000_000)
				}
			}
		})
	}
	wait.Wait()
	return int(leaks.Load())
}

// aimed returns a ray from within a metre of the middle, at random or at a corner, an edge or a face.
func aimed(rnd *rand.Rand, positions []float32, triangles []int32) ray.Ray {
	r := ray.Ray{Far: float32(math.Inf(1))}
	at := rnd.IntN(len(triangles) / 3)
	u, v := rnd.Float32(), rnd.Float32()
	kind := rnd.IntN(4)
	if kind == 0 {
		u, v = 0, 0
	} else if kind == 1 {
		v = 0
	}
	for k := range 3 {
		r.Origin[k] = 2*rnd.Float32() - 1
		if kind == 3 {
			r.Direction[k] = 2*rnd.Float32() - 1
			continue
		}
		corner := func(c int) float32 { return positions[3*triangles[3*at+c]+int32(k)] }
		r.Direction[k] = corner(0) + u*(corner(1)-corner(0)) + v*(corner(2)-corner(0)) - r.Origin[k]
	}
	return r
}
