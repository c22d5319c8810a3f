package transport

import (
	"context"
	"math"
	"reflect"
	"runtime"
	"testing"
	"time"

	"gloam/internal/geometry"
	"gloam/internal/scene"
)

// busyRoom holds every kind of emitter and of surface; two points and a spot.
func busyRoom() *scene.Scene {
	s := twoWindows(true, true)
	s.Surfaces = append(s.Surfaces,
		board(vec{X: 1, Y: 2, Z: 1.2}, vec{X: 1, Z: 0.3}, 1, 1, scene.Optics{Transmit: grey(0.3), ReflectFront: grey(0.5), Straight: grey(0.1)}),
		board(vec{X: 3, Y: 2.4, Z: 1}, vec{X: -1, Y: -1}, 0.8, 0.8, scene.Optics{Mirror: grey(0.8)}),
		board(vec{X: 2, Y: 0.6, Z: 1.3}, vec{Y: 1}, 1, 1, glass(1)))
	more := scenery(nil, matt(vec{X: 0.5, Y: 1, Z: 2.2}, vec{X: 1, Z: -1}, 500, panel(0.5, 0.3)), globe(vec{X: 3, Y: 0.5, Z: 1.8}, 0.1, 300),
		scene.Emitter{Kind: scene.Everywhere})
	for i := range more.Emitters {
		more.Emitters[i].Name += " more"
	}
	s.Emitters = append(s.Emitters, more.Emitters...)
	s.Receivers = append(s.Receivers, spotAt(vec{X: 2, Y: 1.5, Z: 1.5}, vec{X: 1, Y: 2, Z: 1.2}))
	return s
}

// The digits are those of the scene and the seed: not of the number of cores.
func TestDigitsDoNotDependOnCores(t *testing.T) {
	s := busyRoom()
	many := traced(t, s, 5, 0.02, 1<<13)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	one := traced(t, s, 5, 0.02, 1<<13)
	runtime.GOMAXPROCS(7)
	seven := traced(t, s, 5, 0.02, 1<<13)
	if !reflect.DeepEqual(many, one) || !reflect.DeepEqual(one, seven) {
		t.Error("the digits change with the number of cores")
	}
}

// Another receiver, and another order of receivers, leave a receiver's digits alone.
func TestDigitsDoNotDependOnOtherReceivers(t *testing.T) {
	s := busyRoom()
	before := traced(t, s, 5, 0.02, 1<<13)
	old := s.Receivers
	s.Receivers = []scene.Receiver{flatAt(vec{X: 1.5, Y: 1, Z: 0.5}, toX), old[2], old[0], domeAt(vec{X: 1, Y: 1, Z: 1}, down), old[1]}
	after := traced(t, s, 5, 0.02, 1<<13)
	for i, j := range []int{2, 4, 1} {
		if !reflect.DeepEqual(before.Points[i], after.Points[j]) {
			t.Errorf("%s changed", old[i].Name)
		}
	}
}

// Another seed gives other digits, the same light within the errors.
func TestAnotherSeed(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	s := busyRoom()
	a, b := traced(t, s, 1, 0.01, 1<<13), traced(t, s, 2, 0.01, 1<<13)
	for i := range a.Points {
		x, e := a.Points[i].Level(evenly(s))
		y, f := b.Points[i].Level(evenly(s))
		if x == y {
			t.Errorf("%s: the seed is not used", s.Receivers[i].Name)
		}
		compare(t, s.Receivers[i].Name, y, math.Hypot(e, f), x, 0)
	}
}

// The run stops where the goal is met, and at the most paths where it is not.
func TestGoalAndMostPaths(t *testing.T) {
	s := busyRoom()
	for i, p := range traced(t, s, 1, 0.02, 1<<20).Points {
		level, stderr := p.Level(evenly(s))
		if sure := StopError(level, stderr); sure > 0.02 {
			t.Errorf("%s: %.4f stop after %d paths", s.Receivers[i].Name, float64(sure), p.Paths)
		}
	}
	for _, most := range []int{1, 1 << 10, 3000, 1 << 12} {
		for i, p := range traced(t, s, 1, 0, most).Points {
			passes := 2 // lamps and daylight
			if allowed := passes * max(most, Batches*firstPaths); p.Paths > allowed || 2*p.Paths <= allowed {
				t.Errorf("%s: %d paths of %d", s.Receivers[i].Name, p.Paths, most)
			}
		}
	}
}

// A cancelled run ends at once with the context's error; one cancelled before it starts does nothing.
func TestCancel(t *testing.T) {
	s := busyRoom()
	for range 40 {
		s.Receivers = append(s.Receivers, flatAt(vec{X: 2, Y: 1, Z: 0.5 + 0.01*float64(len(s.Receivers))}, geometry.Up))
	}
	ctx, cancel := context.WithCancel(context.Background())
	time.AfterFunc(100*time.Millisecond, cancel)
	begin := time.Now()
	layers, err := Trace(ctx, s, Request{Weights: evenly(s), Goal: 0, MostPaths: 1 << 30})
	if err != context.Canceled || layers != nil {
		t.Errorf("%v, %v", layers, err)
	}
	if took := time.Since(begin); took > 5*time.Second {
		t.Errorf("took %v to stop", took)
	}
	if _, err := Trace(ctx, s, Request{Weights: evenly(s), MostPaths: 1 << 30}); err != context.Canceled {
		t.Error(err)
	}
	late, stop := context.WithTimeout(context.Background(), 20*time.Millisecond)
	defer stop()
	if _, err := Trace(late, s, Request{Weights: evenly(s), Goal: 0, MostPaths: 1 << 30}); err != context.DeadlineExceeded {
		t.Error(err)
	}
}

// Progress never falls and ends at 1 where every goal was met.
func TestProgress(t *testing.T) {
	s := busyRoom()
	var told []float64
	_, err := Trace(context.Background(), s, Request{Weights: evenly(s), Goal: 0.02, MostPaths: 1 << 20,
		Progress: func(share float64) { told = append(told, share) }})
	if err != nil || len(told) == 0 {
		t.Fatal(err, told)
	}
	last := 0.0
	for _, share := range told {
		if share < last || share > 1 {
			t.Fatalf("progress %v", told)
		}
		last = share
	}
	if last != 1 {
		t.Errorf("progress ends at %v", last)
	}
}

// Light paths are kept a stretch at a time: memory does not grow with the number of paths.
func TestMemoryIsBounded(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	s := scenery(closedRoom(vec{X: 4, Y: 4, Z: 3}, 0.2, 0.7, 0.5))
	for x := range 4 {
		s.Emitters = append(s.Emitters, point(vec{X: 0.5 + float64(x), Y: 2, Z: 2}, 1000))
		s.Emitters[x].Name = string(rune('a' + x))
	}
	s.Receivers = []scene.Receiver{flatAt(vec{X: 1, Y: 1}, geometry.Up)}
	done, peak := make(chan bool), make(chan uint64)
	go func() {
		var most uint64
		for {
			select {
			case <-done:
				peak <- most
				return
			case <-time.After(5 * time.Millisecond):
				var m runtime.MemStats
				runtime.ReadMemStats(&m)
				most = max(most, m.HeapInuse)
			}
		}
	}()
	traced(t, s, 1, 0, 1<<17)
	done <- true
	if most := <-peak; most > 200<<20 { // 290 MB were it all at once
		t.Errorf("%d MB", most>>20)
	}
}
