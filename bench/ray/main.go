//go:build linux

// Command ray prints how fast this program's rays are beside Embree's single-ray calls, on the same triangles and the
// same rays, taken in turn in one run, what joining trees costs, and what memory building takes. With -leak it looks for
// rays that get out of closed rooms instead. See bench/README.md.
package main

import (
	"flag"
	"fmt"
	"math"
	"os"
	"runtime"
	"slices"
	"sort"
	"time"

	"golang.org/x/sys/unix"

	"gloam/internal/ray"
)

func main() {
	rounds := flag.Int("rounds", 5, "passes of each contender over each set of rays")
	paths := flag.Int("paths", 500_000, "light paths, each with one ray of either kind")
	only := flag.String("scene", "", "only the scene of this name: 2k, 200k or 2M")
	leaks := flag.Int("leak", 0, "send this many rays about closed rooms instead")
	flag.Parse()
	work := func() error { return run(*rounds, *paths, *only) }
	if *leaks > 0 {
		work = func() error { return leak(*leaks) }
	}
	if err := work(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	if sink < 0 { // never: it is there to be read
		fmt.Println(sink)
	}
}

func run(rounds, paths int, only string) error {
	folder, err := os.MkdirTemp("", "bench-ray")
	if err != nil {
		return err
	}
	defer os.RemoveAll(folder)
	program, err := compile(folder)
	if err != nil {
		return err
	}
	for _, s := range []struct {
		name string
		side float64
	}{{"2k", 0}, {"200k", 0.0455}, {"2M", 0.0143}} {
		if only == "" || only == s.name {
			if err := compare(s.name, s.side, folder, program, rounds, paths); err != nil {
				return err
			}
		}
	}
	return nil
}

// contender is one way to trace, by kind of ray.
type contender struct {
	name  string
	trace map[string]func() (seconds float64, hits int, err error)
	time  map[string][]float64
	hits  map[string]int
}

var kinds = []string{"closest", "any"}

func compare(name string, side float64, folder, program string, rounds, paths int) error {
	mesh, ends := scene(side)
	positions, triangles := mesh.Packed()
	began, cpu := time.Now(), clock(unix.CLOCK_PROCESS_CPUTIME_ID)
	tree := ray.Build(positions, triangles)
	fmt.Printf("\n%s: %d triangles, built in %.3f s wall, %.3f s CPU; peak memory of the process %d MB\n", name, len(triangles)/3,
		time.Since(began).Seconds(), clock(unix.CLOCK_PROCESS_CPUTIME_ID)-cpu, peak())
	joined := join(positions, triangles, ends)
	closest, shadow := rays(mesh, tree, paths)
	if err := files(folder, positions, triangles, closest, shadow); err != nil {
		return err
	}
	contenders := []*contender{ours("this program", tree, closest, shadow)}
	for _, c := range []struct {
		name, config string
		robust       bool
	}{{"Embree sse4.2", "isa=sse4.2", false}, {"Embree avx2", "isa=avx2", false}, {"Embree avx512", "isa=avx512", false}, {"Embree avx2 robust", "isa=avx2", true}} {
		h, err := start(program, folder, fmt.Sprintf("%s,threads=%d", c.config, runtime.NumCPU()), c.robust)
		if err != nil {
			return err
		}
		defer h.stop()
		var wall, cpu float64
		if err := h.ask("build", &wall, &cpu); err != nil {
			return err
		}
		fmt.Printf("%s: built in %.3f s wall, %.3f s CPU\n", c.name, wall, cpu)
		contenders = append(contenders, theirs(c.name, h))
	}
	// Not beside the other of ours: what runs after it in one process finds the rays in the caches.
	contenders = slices.Insert(contenders, 3, ours("joined parts", joined, closest, shadow))
	for round := range rounds + 1 {
		for _, kind := range kinds {
			for i := range contenders {
				c := contenders[(i+round)%len(contenders)]
				seconds, hits, err := c.trace[kind]()
				if err != nil {
					return err
				}
				if round > 0 { // the first only warms up
					c.time[kind] = append(c.time[kind], seconds)
				}
				c.hits[kind] = hits
			}
		}
	}
	report(contenders, map[string]int{"closest": len(closest), "any": len(shadow)})
	return nil
}

// join returns the tree joined from one for every twelfth thing in the room, as if it could be moved, and one for the rest.
func join(positions []float32, triangles []int32, ends []int) *ray.Tree {
	var rest []int32
	var parts []*ray.Tree
	begin := 0
	for i, end := range ends {
		if thing := triangles[3*begin : 3*end]; i%12 == 11 {
			parts = append(parts, ray.Build(positions, thing))
		} else {
			rest = append(rest, thing...)
		}
		begin = end
	}
	parts = append(parts, ray.Build(positions, rest))
	began, cpu := time.Now(), clock(unix.CLOCK_PROCESS_CPUTIME_ID)
	joined := ray.Join(parts...)
	fmt.Printf("%d parts joined in %.4f s wall, %.4f s CPU\n", len(parts), time.Since(began).Seconds(), clock(unix.CLOCK_PROCESS_CPUTIME_ID)-cpu)
	return joined
}

// peak returns the most memory the process has held, in MB.
func peak() int64 {
	var usage unix.Rusage
	if err := unix.Getrusage(unix.RUSAGE_SELF, &usage); err != nil {
		panic("bench: no account of memory")
	}
	return usage.Maxrss / 1024
}

func report(contenders []*contender, count map[string]int) {
	for _, kind := range kinds {
		for _, c := range contenders {
			var ratios []float64
			for i, t := range c.time[kind] {
				ratios = append(ratios, t/contenders[0].time[kind][i])
			}
			fmt.Printf("%-8s %-20s %7.3f Mray/s   ratio %.3f   hits %d of %d\n", kind, c.name,
				float64(count[kind])/median(c.time[kind])/1e6, median(ratios), c.hits[kind], count[kind])
		}
	}
	for _, c := range contenders[1:] {
		product := 1.0
		for _, kind := range kinds {
			var ratios []float64
			for i, t := range c.time[kind] {
				ratios = append(ratios, t/contenders[0].time[kind][i])
			}
			product *= median(ratios)
		}
		fmt.Printf("geomean against %-20s %.3f\n", c.name, math.Sqrt(product))
	}
}

func median(v []float64) float64 {
	s := append([]float64(nil), v...)
	sort.Float64s(s)
	return (s[(len(s)-1)/2] + s[len(s)/2]) / 2
}

func clock(id int32) float64 {
	var t unix.Timespec
	if err := unix.ClockGettime(id, &t); err != nil {
		panic("bench: no such clock")
	}
	return float64(t.Sec) + 1e-9*float64(t.Nsec)
}

func ours(name string, tree *ray.Tree, closest, shadow []ray.Ray) *contender {
	var s ray.Scratch
	timed := func(trace func() int) func() (float64, int, error) {
		return func() (float64, int, error) {
			runtime.LockOSThread()
			defer runtime.UnlockOSThread()
			began := clock(unix.CLOCK_THREAD_CPUTIME_ID)
			hits := trace()
			return clock(unix.CLOCK_THREAD_CPUTIME_ID) - began, hits, nil
		}
	}
	c := newContender(name)
	c.trace["closest"] = timed(func() int {
		hits, sum := 0, int64(0)
		for i := range closest {
			r := closest[i]
			var h ray.Hit
			if tree.Nearest(&r, &h, &s) {
				hits++
				sum += int64(h.Triangle)
			}
		}
		sink += sum
		return hits
	})
	c.trace["any"] = timed(func() int {
		hits := 0
		for i := range shadow {
			r := shadow[i]
			if tree.Occluded(&r, &s) {
				hits++
			}
		}
		return hits
	})
	return c
}

// sink keeps the compiler from leaving work out.
var sink int64

func newContender(name string) *contender {
	return &contender{name, map[string]func() (float64, int, error){}, map[string][]float64{}, map[string]int{}}
}

func theirs(name string, h *harness) *contender {
	c := newContender(name)
	for _, kind := range kinds {
		c.trace[kind] = func() (seconds float64, hits int, err error) {
			var sum int64
			err = h.ask(kind, &seconds, &hits, &sum)
			return seconds, hits, err
		}
	}
	return c
}
