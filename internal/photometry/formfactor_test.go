package photometry

import (
	"math"
	"testing"

	"gloam/internal/unit"
)

type metres = unit.Metre

// Values derived from the closed forms of [HOWELL] in thirty digits and by quadrature; tolerance 1e-6 for their digits.
func TestFormFactors(t *testing.T) {
	for _, c := range []struct {
		name string
		got  unit.Fraction
		want float64
	}{
		{"B-13 h 2 r 0.5 a 1", ElementDisc(2, 0.5, 1), 0.0391823},
		{"B-4 1 1 1", ElementRectangleCorner(1, 1, 1), 0.138532},
		{"B-4 0.5 0.5 2", ElementRectangleCorner(0.5, 0.5, 2), 0.0183694},
		{"B-4 2 1 3", ElementRectangleCorner(2, 1, 3), 0.0522678},
		{"B-4 0.6 0.4 1.5", ElementRectangleCorner(0.6, 0.4, 1.5), 0.0294707},
		{"metre square at a metre", ElementRectangle(1, 1, 1), 0.2394564704}, // quoted as 0.2395; 4·B-4(½, ½, 1)
		{"B-5 1 1 1", ElementRectanglePerpendicular(1, 1, 1), 0.0557342},
		{"B-5 0.75 1.2 2", ElementRectanglePerpendicular(0.75, 1.2, 2), 0.0146406},
		{"B-5 2 1.5 3", ElementRectanglePerpendicular(2, 1.5, 3), 0.0170430},
		{"C-11 1 1", RectanglesParallel(1, 1, 1), 0.1998249},
		{"C-11 2 1", RectanglesParallel(2, 1, 1), 0.2858754},
		{"C-11 1 0.5", RectanglesParallel(1, 0.5, 1), 0.1166537},
		{"C-11 5 5", RectanglesParallel(5, 5, 1), 0.6902447},
		{"C-11 4 3", RectanglesParallel(4, 3, 1), 0.5876161},
		{"C-14 1 1", RectanglesPerpendicular(1, 1, 1), 0.2000438},
		{"C-14 H 2 W 1", RectanglesPerpendicular(1, 2, 1), 0.2328526},
		{"C-14 H 1 W 2", RectanglesPerpendicular(2, 1, 1), 0.1164263},
		{"C-14 H 0.75 W 1.3333", RectanglesPerpendicular(4./3, 0.75, 1), 0.1430946},
		{"C-41 1 1 1", DiscsParallel(1, 1, 1), 0.3819660},
		{"C-41 1 1 2", DiscsParallel(1, 1, 2), 0.1715729},
		{"C-41 0.5 1 1", DiscsParallel(0.5, 1, 1), 0.4688711},
		{"C-41 0.3 0.15 1", DiscsParallel(0.3, 0.15, 1), 0.0202579},
	} {
		t.Run(c.name, func(t *testing.T) { near(t, "F", float64(c.got), c.want, 3e-6) })
	}
}

// E = π·L·F on the axis, and the error of the inverse square close to big sources.
func TestDiscAndRectangleIlluminance(t *testing.T) {
	for d, want := range map[metres]float64{1: 628.319, 2: 184.800, 5: 31.1049} {
		near(t, "disc", float64(DiscIlluminance(1000, 0.5, d)), want, 3e-6)
	}
	near(t, "soft source 1.2 × 0.9 m", float64(RectangleIlluminance(2000, 1.2, 0.9, 1.5)), 824.103, 1e-6)
	for d, want := range map[metres][2]float64{ // square in sides, disc in diameters
		1: {0.7523, 0.8}, 2: {0.9233, 0.9412}, 3: {0.9643, 0.9730}, 5: {0.9869, 0.9901}, 10: {0.9967, 0.9975},
	} {
		near(t, "square", float64(RectangleIlluminance(1, 1, 1, d))*float64(d*d), want[0], 1e-4)
		near(t, "disc", float64(DiscIlluminance(1, 0.5, d))*float64(d*d)/(math.Pi/4), want[1], 1e-4)
	}
}

// The same soft source, target 1 m aside, receptor parallel: four corner rectangles give 463.697 lx.
func TestRectanglesAdd(t *testing.T) {
	// From 1 m aside along the 1.2 m side the source spans 0.4 to 1.6 m; both halves of the height count.
	f := 2 * (ElementRectangleCorner(1.6, 0.45, 1.5) - ElementRectangleCorner(0.4, 0.45, 1.5))
	near(t, "parallel receptor", math.Pi*2000*float64(f), 463.697, 1e-5)
}

// Uniform sky through an upright window 2 m wide, 1.5 m high, sill at the level of the point: 200·F percent.
func TestWindowAsRectangle(t *testing.T) {
	for d, want := range map[metres]float64{1: 16.0579, 2: 5.06885, 3: 1.99226, 4: 0.94465} {
		near(t, "sky component", 200*float64(ElementRectanglePerpendicular(1, 1.5, d)), want, 1e-5)
	}
}

// In a cube a face sees the one opposite and the four beside it: the factors add up to one. Reciprocity: A1·F12 = A2·F21.
func TestEnergyAndReciprocity(t *testing.T) {
	near(t, "cube", float64(RectanglesParallel(2, 2, 2)+4*RectanglesPerpendicular(2, 2, 2)), 1, 1e-12)
	near(t, "box", float64(RectanglesParallel(4, 3, 2)+2*RectanglesPerpendicular(4, 2, 3)+2*RectanglesPerpendicular(3, 2, 4)), 1, 1e-12)
	near(t, "discs", 0.25*float64(DiscsParallel(0.5, 1, 1)), float64(DiscsParallel(1, 0.5, 1)), 1e-12)
	near(t, "perpendicular", 3*float64(RectanglesPerpendicular(3, 2, 5)), 2*float64(RectanglesPerpendicular(2, 3, 5)), 1e-12)
}

// Far away a disc is a point, inside its edge and close by it fills half the sky; both lose no digits.
func TestElementDiscLimits(t *testing.T) {
	near(t, "far", float64(ElementDisc(1e6, 0.5, 3e5)), 0.25*1e12/math.Pow(1e12+9e10, 2), 1e-9)
	near(t, "touching", float64(ElementDisc(1e-9, 0.5, 0.2)), 1, 1e-9)
	near(t, "outside the edge", float64(ElementDisc(1e-6, 0.5, 0.7)), 0, 1e-9)
	near(t, "on the axis", float64(ElementDisc(2, 0.5, 0)), 0.25/4.25, 1e-14)
}
