package scene

import "testing"

// Walks are points from the first mark to the last, evenly spaced on each leg and no farther apart than asked; the mark
// between two legs stands once.
func TestWalks(t *testing.T) {
	for _, row := range []struct {
		name, fields string
		along        []float64
		at, faces    []vec // of the first and the last
	}{
		{"one leg", "marks: [1 1, 4 1]", []float64{0, 1, 2, 3}, []vec{{X: 1, Y: 1, Z: 1.6}, {X: 4, Y: 1, Z: 1.6}}, []vec{{X: 1}, {X: 1}}},
		{"spaced", "marks: [1 1, 4 1], every: 1.2 m", []float64{0, 1, 2, 3}, []vec{{X: 1, Y: 1, Z: 1.6}, {X: 4, Y: 1, Z: 1.6}}, []vec{{X: 1}, {X: 1}}},
		{"finely", "marks: [1 1, 2 1], every: 25 cm", []float64{0, 0.25, 0.5, 0.75, 1}, []vec{{X: 1, Y: 1, Z: 1.6}, {X: 2, Y: 1, Z: 1.6}}, []vec{{X: 1}, {X: 1}}},
		{"two legs", "marks: [1 1, stool, 4 3.5], every: 1 m, height: 1.2 m", []float64{0, 1, 2, 3, 3 + 2.5/3, 3 + 5.0/3, 5.5},
			[]vec{{X: 1, Y: 1, Z: 1.2}, {X: 4, Y: 3.5, Z: 1.2}}, []vec{{X: 1}, {Y: 1}}},
		{"facing a thing", "marks: [1 1, 4 1], every: 3 m, faces: 1 3 1.6", []float64{0, 3}, []vec{{X: 1, Y: 1, Z: 1.6}, {X: 4, Y: 1, Z: 1.6}},
			[]vec{{Y: 1}, vec{X: -3, Y: 2}.Unit()}},
		{"facing up", "marks: [1 1, 4 1], every: 3 m, faces: up, receptor: dome", []float64{0, 3}, []vec{{X: 1, Y: 1, Z: 1.6}, {X: 4, Y: 1, Z: 1.6}},
			[]vec{{Z: 1}, {Z: 1}}},
		{"a rest between two legs", "marks: [1 1, 2 1, 2 1, 3 1]", []float64{0, 1, 2}, []vec{{X: 1, Y: 1, Z: 1.6}, {X: 3, Y: 1, Z: 1.6}}, []vec{{X: 1}, {X: 1}}},
		{"a rest at the beginning", "marks: [1 1, 1 1, 2 1]", []float64{0, 1}, []vec{{X: 1, Y: 1, Z: 1.6}, {X: 2, Y: 1, Z: 1.6}}, []vec{{X: 1}, {X: 1}}},
		{"there and back", "marks: [1 1, 2 1, 1 1]", []float64{0, 1, 2}, []vec{{X: 1, Y: 1, Z: 1.6}, {X: 1, Y: 1, Z: 1.6}}, []vec{{X: 1}, {X: -1}}},
		{"up a stair", "marks: [1 1 0, 4 1 4]", []float64{0, 1, 2, 3, 4, 5}, []vec{{X: 1, Y: 1, Z: 1.6}, {X: 4, Y: 1, Z: 5.6}}, []vec{{X: 1}, {X: 1}}},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := built(t, "marks: {stool: 4 1}\nwalks: {in: {"+row.fields+"}}\n")
			use := s.Walks[0]
			if len(use.Receivers) != len(row.along) {
				t.Fatalf("points at %v m, want %v", use.Along, row.along)
			}
			for i, want := range row.along {
				within(t, "way to a point", float64(use.Along[i]), want, 1e-9)
			}
			for i, index := range []int{0, len(use.Receivers) - 1} {
				r := s.Scene.Receivers[use.Receivers[index]]
				near(t, "place of "+r.Name, r.Position, row.at[i])
				near(t, "facing of "+r.Name, r.Normal, row.faces[i])
			}
		})
	}
}

// Straight up no way of travel says what the receptor faces.
func TestWalkStraightUp(t *testing.T) {
	wantFault(t, misbuilt(t, "walks: {lift: {marks: [1 1 0, 1 1 3]}}\n"), "faces")
	if s := built(t, "walks: {lift: {marks: [1 1 0, 1 1 3], faces: N}}\n"); len(s.Walks[0].Receivers) != 4 {
		t.Errorf("the lift has %d points, want 4", len(s.Walks[0].Receivers))
	}
}

// Who walks does not stand in their own light: the body is left out, the points stay.
func TestWalkersBodyIsLeftOut(t *testing.T) {
	s := built(t, "people: {maker: {at: 1 1, faces: E, key: left}, visitor: {at: 3 3, faces: maker, key: left}}\nwalks: {in: {marks: [1 1, 4 1], who: maker}}\n")
	for i := range s.Scene.Surfaces {
		if name := s.Scene.Surfaces[i].Name; name == "maker" || name == "maker clothes" {
			t.Errorf("%s is there", name)
		}
	}
	s.surface(t, "visitor")
	s.receiver(t, "maker.front")
}
