package geometry

import (
	"math"
	"testing"
)

var people = map[string]Person{
	"stands":          {Height: 1.72},
	"is tall":         {Height: 1.95},
	"is a child":      {Height: 1.1},
	"sits on a stool": {Height: 1.72, Face: 1.25},
	"sits high":       {Height: 1.72, Face: 1.37},
	"sits low":        {Height: 1.72, Face: 0.95},
	"sits on a floor": {Height: 1.72, Face: 0.78},
	"bends the knees": {Height: 1.72, Face: 1.40},
}

// The body stands on the floor and ends at its crown; who sits has the feet before the seat, and nobody is wider than
// the shoulders of a person are (0.28 of the height, from memory).
func TestPersonBounds(t *testing.T) {
	for name, p := range people {
		t.Run(name, func(t *testing.T) {
			m := p.Mesh()
			low, high := m.Bounds()
			if math.Abs(high.Z-(p.face()+0.075*p.Height)) > 1e-9 {
				t.Errorf("the crown is at %.4f m over a face at %.4f", high.Z, p.face())
			}
			if math.Abs(low.Z) > 1e-9 {
				t.Errorf("the soles are at %.3f m", low.Z)
			}
			if wide := high.X - low.X; wide < 0.24*p.Height || wide > 0.34*p.Height {
				t.Errorf("%.3f m wide", wide)
			}
			if p.seated() != (high.Y > 0.25*p.Height) {
				t.Errorf("sits: %v, but reaches %.3f m forward", p.seated(), high.Y)
			}
			if n := len(m.Triangles); n > 7200 {
				t.Errorf("%d triangles", n)
			}
			if err := m.Check(); err != nil {
				t.Error(err)
			}
		})
	}
}

// Every part is closed and faces outward: each edge is shared by two triangles that run it opposite ways, and no part's
// volume is negative. The right and left halves are mirror images.
func TestPersonParts(t *testing.T) {
	p := Person{Height: 1.72, Face: 1.25}
	parts := map[string]Mesh{"head": headMesh(), "left ear": earMesh(-1), "right ear": earMesh(1), "trunk": loft(trunk, 1, 28)}
	for side, name := range map[float64]string{-1: "left", 1: "right"} {
		leg, foot := p.leg(side)
		parts[name+" arm"], parts[name+" leg"], parts[name+" foot"] = loft(p.arm(side), 2, 8), loft(leg, 2, 10), loft(foot, 1, 10)
	}
	for name, m := range parts {
		edges := map[[2]int32]int{}
		for _, c := range m.Triangles {
			for k := range c {
				edges[[2]int32{c[k], c[(k+1)%3]}]++
			}
		}
		for e, n := range edges {
			if n != 1 || edges[[2]int32{e[1], e[0]}] != 1 {
				t.Errorf("%s: edge %v is used %d times", name, e, n)
				break
			}
		}
		if m.Volume() <= 0 {
			t.Errorf("%s: volume %.6f", name, m.Volume())
		}
	}
	for _, part := range []string{"arm", "leg", "foot", "ear"} {
		left, right := parts["left "+part].Volume(), parts["right "+part].Volume()
		if math.Abs(left/right-1) > 0.01 {
			t.Errorf("left %s %.6f, right %.6f", part, left, right)
		}
	}
	for _, v := range headMesh().Positions {
		if math.Abs(v.X) > 0.05 {
			t.Errorf("the head is %.3f wide to one side", v.X)
		}
	}
}

// The face is a face: the nose is the foremost place, the eyes lie behind the brows and the cheekbones, the chin stands
// before the neck, all by lengths that show; both sides are alike.
func TestFace(t *testing.T) {
	m := headMesh()
	front := func(x, z float64) float64 {
		far := 0.0
		for i := range m.Triangles {
			a, b, c := m.Corners(i)
			far = math.Max(far, reach(Vector{x, 0, z}, Vector{0, 1, 0}, a, b, c))
		}
		return far
	}
	nose, root, brow, eye := front(0, noseTip), front(0, noseRoot), front(0.014, 0.0215), front(0.014, 0.0125)
	cheek, chin, neck, mouth := front(0.029, -0.002), front(0, -0.048), front(0, -0.075), front(0, -0.0297)
	for _, c := range []struct {
		name          string
		before, after float64
		by            float64
	}{
		{"nose before its root", nose, root, 0.008},
		{"nose before the chin", nose, chin, 0.008},
		{"brow before the eye", brow, eye, 0.004},
		{"chin before the neck", chin, neck, 0.020},
		{"chin before the mouth's line", chin, mouth, 0.0005},
		{"cheekbone before the side of the head", cheek, 0.02, 0.005},
	} {
		if c.before-c.after < c.by {
			t.Errorf("%s: by %.4f of the height, want %.4f", c.name, c.before-c.after, c.by)
		}
	}
	for _, x := range []float64{0.01, 0.02, 0.03} {
		if a, b := front(x, 0.005), front(-x, 0.005); math.Abs(a-b) > 3e-4 {
			t.Errorf("at ±%.2f the face stands out by %.5f and %.5f", x, a, b)
		}
	}
}

// The places of the skin are where the old measure of a head has them: at the height of the face, some 0.06 of the height
// before its middle, less to the sides, and at the crown.
func TestSkinPoints(t *testing.T) {
	for name, p := range people {
		t.Run(name, func(t *testing.T) {
			for what, v := range map[string]Vector{"front": p.Front(), "left": p.Left(), "right": p.Right()} {
				out := math.Hypot(v.X, v.Y+0.005*p.Height) / p.Height
				if math.Abs(v.Z-p.face()) > 1e-9 || out < 0.045 || out > 0.07 {
					t.Errorf("%s is %.4f of the height out, at %.4f m", what, out, v.Z)
				}
			}
			if l, r := p.Left(), p.Right(); math.Abs(l.X+r.X) > 1e-3*p.Height || math.Abs(l.Y-r.Y) > 1e-3*p.Height {
				t.Errorf("left %v, right %v", l, r)
			}
			if h := p.Hair(); math.Abs(h.Z-p.face()-0.075*p.Height) > 1e-3 {
				t.Errorf("hair is at %.4f", h.Z)
			}
		})
	}
}
