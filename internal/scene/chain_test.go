package scene

import (
	"strconv"
	"testing"
)

// Forty marks, each of which hangs on the two before, are found at once: one by one there are 2⁴⁰ ways to the first.
func TestChainOfPlaces(t *testing.T) {
	text := "marks:\n  m0: 0 0\n  m1: 1 0\n"
	for i := 2; i <= 40; i++ {
		text += "  m" + strconv.Itoa(i) + ": 1 m from m" + strconv.Itoa(i-1) + " toward m" + strconv.Itoa(i-2) + "\n" // back and forth
	}
	s := built(t, text+"points: {here: {at: m40, height: 1 m, faces: up}}\n")
	near(t, "the last", s.receiver(t, "here").Position, vec{Z: 1})
}
