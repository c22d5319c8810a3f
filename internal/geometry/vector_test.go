package geometry

import (
	"math"
	"testing"
)

func near(a, b Vector) bool { return a.Sub(b).Length() < 1e-12 }

func TestAboutLooksAlongZWithTheHeadUp(t *testing.T) {
	b := About(Vector{0, 1, 0})
	if !near(b.X, Vector{1, 0, 0}) || !near(b.Y, Vector{0, 0, -1}) {
		t.Errorf("looking along +y: X %v to the right, Y %v down", b.X, b.Y)
	}
	for _, z := range []Vector{{0, 0, 1}, {0, 0, -1}, {1, 0, 0}, Vector{1, 2, -3}.Unit(), Vector{1e-9, 0, 1}.Unit()} {
		b := About(z)
		if !near(b.X.Cross(b.Y), b.Z) || math.Abs(b.X.Length()-1) > 1e-12 || math.Abs(b.X.Z) > 1e-12 {
			t.Errorf("about %v: %v is not a right-handed basis with a level X", z, b)
		}
		if v := (Vector{0.3, -2, 5}); !near(b.In(b.Out(v)), v) {
			t.Errorf("about %v: in and out do not undo each other", z)
		}
	}
}

func TestRollTurnsXTowardY(t *testing.T) {
	b := About(Vector{0, 1, 0}).Roll(math.Pi / 2)
	if !near(b.X, Vector{0, 0, -1}) {
		t.Errorf("X after a quarter turn: %v, want straight down", b.X)
	}
}
