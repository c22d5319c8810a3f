package chart

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestSpread(t *testing.T) {
	for _, c := range []struct {
		name   string
		wishes []wish
		want   []float64
	}{
		{"none", nil, []float64{}},
		{"one has its wish", []wish{{50, 10}}, []float64{50}},
		{"one is kept inside", []wish{{-20, 10}}, []float64{5}},
		{"two apart have theirs", []wish{{60, 10}, {20, 10}}, []float64{60, 20}},
		{"two at one place share it", []wish{{50, 10}, {50, 10}}, []float64{45, 55}},
		{"a third is pushed on", []wish{{50, 10}, {50, 10}, {58, 10}}, []float64{42.666666666666664, 52.666666666666664, 62.666666666666664}},
		{"a row at the end stays inside", []wish{{99, 10}, {100, 10}}, []float64{85, 95}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := spread(c.wishes, 0, 100)
			if !slices.EqualFunc(got, c.want, func(a, b float64) bool { return math.Abs(a-b) < 1e-9 }) {
				t.Errorf("spread gives %v, want %v", got, c.want)
			}
		})
	}
}

func TestSpreadKeepsApartAndInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var wishes []wish
		total := 0.0
		for range rapid.IntRange(1, 30).Draw(t, "count") {
			w := wish{rapid.Float64Range(-50, 450).Draw(t, "at"), rapid.Float64Range(1, 30).Draw(t, "room")}
			wishes, total = append(wishes, w), total+w.room
		}
		high := max(400, total)
		places := spread(wishes, 0, high)
		for i, a := range wishes {
			if places[i]-a.room/2 < -1e-6 || places[i]+a.room/2 > high+1e-6 {
				t.Fatalf("%v of room %v leaves 0 to %v", places[i], a.room, high)
			}
			for j, b := range wishes {
				if a.at < b.at && places[j]-places[i] < (a.room+b.room)/2-1e-6 {
					t.Fatalf("%v and %v overlap or change places", a, b)
				}
			}
		}
	})
}

func TestLanes(t *testing.T) {
	got, count := lanes([][2]float64{{0, 10}, {5, 15}, {10, 20}, {12, 13}, {30, 40}})
	if want := []int{0, 1, 0, 2, 0}; !slices.Equal(got, want) || count != 3 {
		t.Errorf("lanes %v of %d, want %v of 3", got, count, want)
	}
}

// What is clipped lies in the box, and on the line it was cut from.
func TestClip(t *testing.T) {
	in := box{0, 0, 100, 50}
	got := clip([]XY{{-50, 25}, {50, 25}, {50, 75}, {math.NaN(), 0}, {10, 10}, {20, 20}, {30, math.Inf(1)}}, in)
	want := Path{{Op: MoveTo, To: XY{0, 25}}, {Op: LineTo, To: XY{50, 25}}, {Op: LineTo, To: XY{50, 50}},
		{Op: MoveTo, To: XY{10, 10}}, {Op: LineTo, To: XY{20, 20}}}
	if !slices.Equal(got, want) {
		t.Errorf("clip gives %v, want %v", got, want)
	}
	rapid.Check(t, func(t *rapid.T) {
		any := rapid.Float64Range(-200, 200)
		a, b := XY{any.Draw(t, "ax"), any.Draw(t, "ay")}, XY{any.Draw(t, "bx"), any.Draw(t, "by")}
		for _, s := range clip([]XY{a, b}, in) {
			cross := (b.X-a.X)*(s.To.Y-a.Y) - (b.Y-a.Y)*(s.To.X-a.X)
			if !in.grown(1e-6).contains(s.To) || math.Abs(cross) > 1e-6*(1+math.Hypot(b.X-a.X, b.Y-a.Y)) {
				t.Fatalf("%v is not on the way from %v to %v in %v", s.To, a, b, in)
			}
		}
	})
}

// The sun goes down a degree in 4 minutes, so that each part ends at 4 times its altitude.
func TestStretchesOfTheDay(t *testing.T) {
	got := stretches([]SunSample{{0, 0}, {40, -10}, {100, -25}})
	ends := []float64{4 * 50.0 / 60, 24, 48, 72, 100}
	if len(got) != len(ends) {
		t.Fatalf("%d parts: %v", len(got), got)
	}
	for i, part := range got {
		if part.sky != i || math.Abs(part.to-ends[i]) > 1e-9 {
			t.Errorf("part %d is %v, want it to end at %v", i, part, ends[i])
		}
	}
}

func TestLevelAt(t *testing.T) {
	samples := []Sample{{600, 1, 0.2}, {610, 2, 0.4}, {620, 0, 0.4}}
	for at, want := range map[float64][2]float64{600: {1, 0.2}, 605: {1.5, 0.3}, 610: {2, 0.4}, 620: {0, 0.4}} {
		level, interval, ok := levelAt(samples, at)
		if !ok || math.Abs(level-want[0]) > 1e-12 || math.Abs(interval-want[1]) > 1e-12 {
			t.Errorf("at %v: %v ± %v, %v, want %v", at, level, interval, ok, want)
		}
	}
	for _, at := range []float64{599, 621} {
		if _, _, ok := levelAt(samples, at); ok {
			t.Errorf("at %v there is a level", at)
		}
	}
}

func TestClockPassesMidnight(t *testing.T) {
	for minutes, want := range map[float64]string{0: "00:00", 1439: "23:59", 1500: "01:00", -30: "23:30"} {
		if got := clock(minutes); got != want {
			t.Errorf("%v is %s, want %s", minutes, got, want)
		}
	}
}
