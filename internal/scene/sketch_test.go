package scene

import (
	"math"
	"os"
	"strings"
	"testing"

	"gloam/internal/fault"
	"gloam/internal/geometry"
	"gloam/internal/plan"
	"gloam/internal/spectrum"
)

type vec = geometry.Vector

// head begins every plan here; where a body has no camera or no light of its own, sketch adds one.
const (
	head   = "gloam: 1\ntitle: A test\n"
	camera = "camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8}\n"
	light  = "ambient: {sky: {reading: 100 lx, shape: everywhere}}\n"
)

// shelf holds the files beside a plan.
type shelf map[string]string

func (s shelf) open(name string) ([]byte, error) {
	text, ok := s[name]
	if !ok {
		return nil, os.ErrNotExist
	}
	return []byte(text), nil
}

// sketch completes the body of a plan.
func sketch(body string) string {
	text := head + body
	if !strings.Contains(body, "camera:") {
		text += camera
	}
	if !strings.Contains(body, "lamps:") && !strings.Contains(body, "ambient:") && !strings.Contains(body, "practicals:") && !strings.Contains(body, "\nsky: ") {
		text += light
	}
	return text
}

// viewed reads the body of a plan and returns its first set-up.
func viewed(t *testing.T, body string, files shelf) *plan.View {
	t.Helper()
	p, faults := plan.Read("plan.yaml", []byte(sketch(body)), files.open)
	if err := faults.Err(); err != nil {
		t.Fatalf("the plan has faults:\n%v", err)
	}
	v, faults := p.Setup(p.Setups()[0])
	if err := faults.Err(); err != nil {
		t.Fatal(err)
	}
	return v
}

// built makes the set-up of a plan's body, which must be without a fault.
func built(t *testing.T, body string) *Setup { t.Helper(); return builtWith(t, body, nil) }

func builtWith(t *testing.T, body string, files shelf) *Setup {
	t.Helper()
	s, faults := Build(viewed(t, body, files), false)
	if err := faults.Err(); err != nil {
		t.Fatalf("the set-up has faults:\n%v", err)
	}
	return s
}

// misbuilt returns the faults of a plan that is sound to read and cannot be built.
func misbuilt(t *testing.T, body string) fault.List {
	t.Helper()
	_, faults := Build(viewed(t, body, nil), false)
	return faults
}

func contains(text, part string) bool         { return strings.Contains(text, part) }
func join(words []string) string              { return strings.Join(words, " ") }
func replaced(text, old, fresh string) string { return strings.Replace(text, old, fresh, 1) }

func (s *Setup) surface(t *testing.T, name string) *Surface {
	t.Helper()
	for i := range s.Scene.Surfaces {
		if s.Scene.Surfaces[i].Name == name {
			return &s.Scene.Surfaces[i]
		}
	}
	t.Fatalf("no surface is called %q", name)
	return nil
}

func (s *Setup) emitter(t *testing.T, name string) *Emitter {
	t.Helper()
	for i := range s.Scene.Emitters {
		if s.Scene.Emitters[i].Name == name {
			return &s.Scene.Emitters[i]
		}
	}
	t.Fatalf("no emitter is called %q", name)
	return nil
}

func (s *Setup) opening(t *testing.T, name string) *Opening {
	t.Helper()
	for i := range s.Scene.Openings {
		if s.Scene.Openings[i].Name == name {
			return &s.Scene.Openings[i]
		}
	}
	t.Fatalf("no opening is called %q", name)
	return nil
}

func (s *Setup) receiver(t *testing.T, name string) *Receiver {
	t.Helper()
	for i := range s.Scene.Receivers {
		if s.Scene.Receivers[i].Name == name {
			return &s.Scene.Receivers[i]
		}
	}
	t.Fatalf("no receiver is called %q", name)
	return nil
}

func (s *Setup) lamp(t *testing.T, name string) *LampUse {
	t.Helper()
	for i := range s.Lamps {
		if s.Lamps[i].Name == name {
			return &s.Lamps[i]
		}
	}
	t.Fatalf("no lamp is called %q", name)
	return nil
}

// near fails when two vectors differ by more than a hundredth of a millimetre.
func near(t *testing.T, what string, got, want vec) {
	t.Helper()
	if !(got.Sub(want).Length() <= 1e-5) {
		t.Errorf("%s is %.4f, want %.4f", what, got, want)
	}
}

// within fails when two numbers differ by more than a tolerance.
func within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %.6g, want %.6g ±%.2g", what, got, want, tolerance)
	}
}

// bounds returns the corners of the box about a mesh.
func bounds(m geometry.Mesh) (low, high vec) {
	low, high = m.Positions[0], m.Positions[0]
	for _, p := range m.Positions {
		low = vec{X: min(low.X, p.X), Y: min(low.Y, p.Y), Z: min(low.Z, p.Z)}
		high = vec{X: max(high.X, p.X), Y: max(high.Y, p.Y), Z: max(high.Z, p.Z)}
	}
	return low, high
}

// facet returns a mesh's area in m² and its mean normal weighted by area: a unit vector where the mesh is flat.
func facet(m geometry.Mesh) (area float64, normal vec) {
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		n := b.Sub(a).Cross(c.Sub(a)).Mul(0.5)
		area += n.Length()
		normal = normal.Add(n)
	}
	return area, normal.Mul(1 / area)
}

// hit returns how far along a ray a mesh is first met, +Inf where it is missed (the textbook's plane and edge tests).
func hit(m geometry.Mesh, from, way vec) float64 {
	first := math.Inf(1)
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		n := b.Sub(a).Cross(c.Sub(a))
		d := n.Dot(a.Sub(from)) / n.Dot(way)
		at := from.AddMul(d, way)
		const slack = -1e-12 // on an edge is inside
		inside := b.Sub(a).Cross(at.Sub(a)).Dot(n) >= slack && c.Sub(b).Cross(at.Sub(b)).Dot(n) >= slack && a.Sub(c).Cross(at.Sub(c)).Dot(n) >= slack
		if d > 0 && inside && d < first {
			first = d
		}
	}
	return first
}

// even fails unless every band holds the same number.
func even(t *testing.T, what string, got spectrum.Band, want float64) {
	t.Helper()
	for _, x := range got {
		if !(math.Abs(x-want) <= 1e-9) {
			t.Errorf("%s is %.6g in a band, want %.6g in all", what, x, want)
			return
		}
	}
}
