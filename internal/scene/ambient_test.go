package scene

import (
	"math"
	"testing"

	"gloam/internal/colour"
	"gloam/internal/spectrum"
)

const window = "set: {rooms: {shop: {size: 5 x 4 x 3 m, openings: {window: {wall: far, size: 2 x 1 m}, door: {wall: left, size: 1 x 2 m, sill: 0, glass: none}}}}}\n"

// Kinds of ambient, what each comes in by and the receptor it was read with.
func TestAmbientKinds(t *testing.T) {
	for _, row := range []struct {
		name, fields string
		kind         Kind
		overcast     bool
		through      []int
		toward       vec
	}{
		{"everywhere", "shape: everywhere, point: maker.front", Everywhere, false, nil, vec{}},
		{"everywhere through a window", "shape: everywhere, point: maker.front, through: [window]", Everywhere, false, []int{0}, vec{}},
		{"a dome", "shape: dome, point: maker.front", Sky, false, nil, vec{}},
		{"overcast by a door and a window", "shape: overcast, point: maker.front, through: [door, window]", Sky, true, []int{1, 0}, vec{}},
		{"a sun in the east, 30° up", "shape: sun, altitude: 30 deg, azimuth: 90 deg, at: 2 2 1, faces: sun", Sun, false, nil,
			vec{X: math.Sqrt(3) / 2, Z: 0.5}},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := built(t, window+"people: {maker: {at: 2 2, faces: N, key: left}}\nambient: {sky: {reading: 640 lx, colour: 7500 K, "+row.fields+"}}\n")
			e := s.emitter(t, "sky")
			if e.Kind != row.kind || e.Overcast != row.overcast || len(e.Through) != len(row.through) {
				t.Fatalf("is of kind %d, overcast %v, through %v", e.Kind, e.Overcast, e.Through)
			}
			for i, o := range row.through {
				if e.Through[i] != o {
					t.Errorf("comes in by %v, want %v", e.Through, row.through)
				}
			}
			near(t, "direction to it", e.Toward, row.toward)
			cct, _, err := colour.CCTDuv(colour.Of(spectrum.LightOf(s.Dials[0].Light), whole))
			if err != nil {
				t.Fatal(err)
			}
			within(t, "colour", float64(cct), 7500, 50) // a phase of daylight, its bands against 1 nm
			if u := s.Ambients[0]; u.Reading != 640 || u.Emitter != 0 || u.Place.Line == 0 || u.Path != "ambient.sky.reading" {
				t.Errorf("the reading is %+v", u)
			}
			if !s.Sources[0].Ambient || s.Sources[0].Doubts[0].Stops != 1.0/3 {
				t.Errorf("the source is %+v", s.Sources[0])
			}
		})
	}
}

// A reading is at the point named, or at a place of its own with its own facing and receptor.
func TestAmbientReceivers(t *testing.T) {
	const body = window + `people: {maker: {at: 2 2, faces: N, key: left}}
points: {sill: {at: 2 3.5 1, faces: W, receptor: dome}}
marks: {stool: 2 2}
`
	front := built(t, body).receiver(t, "maker.front")
	for _, row := range []struct {
		name, fields string
		at, faces    vec
		kind         ReceptorKind
	}{
		{"at a person's point", "point: maker.front", front.Position, vec{Y: 1}, Flat},
		{"at a point, with a dome", "point: sill, receptor: dome", vec{X: 2, Y: 3.5, Z: 1}, vec{X: -1}, Dome},
		{"at a place of its own", "at: stool, height: 1.2 m, faces: up", vec{X: 2, Y: 2, Z: 1.2}, vec{Z: 1}, Flat},
		{"at a place, facing a window", "at: 2.5 1 1.4, faces: window, receptor: dome", vec{X: 2.5, Y: 1, Z: 1.4}, vec{Y: 1}, Dome},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := built(t, body+"ambient: {sky: {reading: 640 lx, shape: dome, "+row.fields+"}}\n").Ambients[0].Receiver
			near(t, "place", r.Position, row.at)
			near(t, "facing", r.Normal, row.faces)
			if r.Kind != row.kind {
				t.Errorf("a %s receptor, want %s", r.Kind, row.kind)
			}
		})
	}
}

// A sky read in an opening is kept beside the reading; spots look from the camera.
func TestSkySeenInAnOpening(t *testing.T) {
	s := built(t, window+`points: {in the window: {at: window, receptor: spot}, here: {at: 2 2 1, faces: N}}
camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8, at: 4 1 1.5, aim: window}
ambient: {sky: {reading: 640 lx, shape: dome, point: here, luminance: 2400 cd/m2, through: [window]}}
`)
	if seen := s.Ambients[0].Seen; seen == nil || *seen != 2400 {
		t.Errorf("the sky seen is %v", seen)
	}
	spot := s.receiver(t, "in the window")
	near(t, "the eye", spot.Position, vec{X: 4, Y: 1, Z: 1.5})
	near(t, "the way it looks", spot.Normal, vec{X: 2.5 - 4, Y: 3, Z: 1.4 - 1.5}.Unit())
}
