package pipeline

import (
	"context"
	"fmt"
	"testing"

	"gloam/internal/plan"
	"gloam/internal/unit"
)

// eightLamps is a room with eight lamps and six levels wanted.
func eightLamps(tb testing.TB) *plan.View {
	text := `gloam: 1
title: eight lamps
set: {rooms: {hall: {size: 12 x 10 x 4 m}}}
people: {one: {at: 4 5, faces: 180 deg, key: left}, two: {at: 8 5, faces: 180 deg, key: left}}
camera: {ei: 800, fps: 25, shutter: 180 deg, stop: T2.8}
targets: [{point: one.key side, level: 0}, {point: one.shadow side, level: -2}, {point: two.key side, level: 0}, {point: two.shadow side, level: -2},
  {point: one.hair, level: +0.5, tolerance: 1}, {point: two.hair, level: +0.5, tolerance: 1}]
lamps:
`
	for i := range 8 {
		text += fmt.Sprintf("  lamp %d: {kit: B3-D55, at: %g %g 2.5, aim: %s}\n", i+1, 1+1.4*float64(i), 1+float64(i%2)*7.5, []string{"one", "two"}[i/4])
	}
	p, faults := plan.Read("plan.yaml", []byte(text), nil)
	if err := faults.Err(); err != nil {
		tb.Fatal(err)
	}
	return viewOf(tb, p, p.Setups()[0])
}

// The place of one of eight lamps inside an area, all dims free: what is looked at until the best is known.
func BenchmarkSearchOfAnArea(b *testing.B) {
	view := eightLamps(b)
	o := SolveOptions{Options: Defaults(), Free: Freedom{Moves: []Move{{Name: "lamp 1", Kind: "area", From: unit.Point2{X: 1, Y: 1}, To: unit.Point2{X: 6, Y: 4}}}}}
	s := &solver{SolveOptions: o, ctx: context.Background(), view: view}
	if err := s.begin(); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if err := s.move(&world{}); err != nil {
			b.Fatal(err)
		}
	}
}

// All of an answer: worlds, ranking, three ways run forward.
func BenchmarkSolve(b *testing.B) {
	view := eightLamps(b)
	for b.Loop() {
		if _, err := Solve(context.Background(), view, SolveOptions{Options: Defaults(), Answers: 3}); err != nil {
			b.Fatal(err)
		}
	}
}
