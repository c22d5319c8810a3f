package scene

import (
	"math"
	"testing"
)

// A point may stand at coordinates, at a thing, or a level distance from it by bearing or toward another thing. North is
// the azimuth of +y, bearings are from true north.
func TestPlaces(t *testing.T) {
	const half = math.Sqrt2 / 2
	for _, row := range []struct {
		name, north, at string
		want            vec
	}{
		{"coordinates", "0", "at: 1.5 2.5 0.7", vec{X: 1.5, Y: 2.5, Z: 0.7}},
		{"coordinates with a height", "0", "at: 1.5 2.5, height: 1.2 m", vec{X: 1.5, Y: 2.5, Z: 1.2}},
		{"feet", "0", `at: 10 ft 5 ft 4 ft`, vec{X: 3.048, Y: 1.524, Z: 1.2192}},
		{"above a mark", "0", "at: stool, height: 1.2 m", vec{X: 2, Y: 3, Z: 1.2}},
		{"a mark is met at face height", "0", "at: stool", vec{X: 2, Y: 3, Z: 1.6}},
		{"a mark with its own height", "0", "at: stage", vec{X: 6, Y: 3, Z: 0.5}},
		{"above a mark with its own height", "0", "at: stage, height: 1.2 m", vec{X: 6, Y: 3, Z: 1.7}},
		{"a bearing east", "0", "at: 3 m from stool bearing 90, height: 1 m", vec{X: 5, Y: 3, Z: 1}},
		{"a bearing, +y looks east", "90", "at: 3 m from stool bearing 90, height: 1 m", vec{X: 2, Y: 6, Z: 1}},
		{"a bearing north, +y looks east", "90", "at: 3 m from stool bearing N, height: 1 m", vec{X: -1, Y: 3, Z: 1}},
		{"a compass point", "0", "at: 2 m from stool bearing SW, height: 1 m", vec{X: 2 - 2*half, Y: 3 - 2*half, Z: 1}},
		{"toward a thing, level", "0", "at: 1 m from stool toward stage, height: 1 m", vec{X: 3, Y: 3, Z: 1}},
		{"toward a lamp overhead, level", "0", "at: 1 m from stage toward lamp, height: 1 m", vec{X: 6, Y: 2, Z: 1.5}},
		{"from a lamp keeps its height", "0", "at: 2 m from lamp bearing 0", vec{X: 6, Y: 1, Z: 4}},
		{"at a lamp", "0", "at: lamp", vec{X: 6, Y: -1, Z: 4}},
		{"at a window", "0", "at: window", vec{X: 4, Y: 8, Z: 1.5}},
		{"at a cloth", "0", "at: frame", vec{X: 1, Y: 1, Z: 1.8}},
		{"at a practical", "0", "at: globe", vec{X: 3, Y: 1, Z: 1.1}},
		{"at an object's middle", "0", "at: bench", vec{X: 2, Y: 6, Z: 0.4}},
		{"above an object's foot", "0", "at: crate, height: 1 m", vec{X: 7, Y: 7, Z: 1}},
		{"at a mirror's centre", "0", "at: glass", vec{X: 0.5, Y: 5, Z: 1.4}},
		{"in the middle of a walk", "0", "at: path", vec{X: 4, Y: 3, Z: 1.5}},
		{"at the camera", "0", "at: camera", vec{X: 7, Y: 1, Z: 1.45}},
		{"at another point", "0", "at: other", vec{X: 2, Y: 2, Z: 1}},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := built(t, "set: {north: "+row.north+` deg, rooms: {shop: {size: 8 x 8 x 5 m, openings: {window: {wall: far, size: 2 x 1 m, sill: 1 m}}}},
  objects: {crate: {kind: box, size: 0.8 x 0.8 x 0.8 m, at: 7 7}, bench: {kind: table, size: 1 x 1 x 0.8 m, at: 2 6}, glass: {kind: mirror, size: 0.5 x 0.5 m, at: 0.5 5 1.4, faces: stool}}}
marks: {stool: 2 3, stage: 6 3 0.5}
walks: {path: {marks: [stool, 6 3], height: 1.5 m}}
lamps: {lamp: {kit: P20, at: 6 -1, height: 4 m, aim: stool}}
cloths: {frame: {kind: black, size: 1 x 1 m, at: 1 1, height: 1.8 m, faces: stool}}
practicals: {globe: {kind: globe, at: 3 1 1.1, diameter: 0.1 m, flux: 400 lm}}
points: {other: {at: 2 2 1, faces: up}, here: {`+row.at+`, faces: up}}
camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8, at: 7 1, height: 1.45 m}
`)
			near(t, "here", s.receiver(t, "here").Position, row.want)
		})
	}
}

// What something faces: a lamp of no use but its aim, at 1 2 3, with the sun at azimuth 170°, altitude 25°.
func TestAims(t *testing.T) {
	from := vec{X: 1, Y: 2, Z: 3}
	slant := func(azimuth, up float64) vec {
		sa, ca := math.Sincos(azimuth * math.Pi / 180)
		su, cu := math.Sincos(up * math.Pi / 180)
		return vec{X: sa * cu, Y: ca * cu, Z: su}
	}
	at := func(x, y, z float64) vec { return vec{X: x, Y: y, Z: z}.Sub(from).Unit() }
	person := built(t, "people: {maker: {at: 5 5, faces: near stool, key: left}}\nmarks: {near stool: 4 5}\n")
	front := person.receiver(t, "maker.front").Position
	hair := person.receiver(t, "maker.hair").Position
	for _, row := range []struct {
		name, north, aim string
		want             vec
	}{
		{"coordinates", "0", "4 6 1", at(4, 6, 1)},
		{"coordinates without a height are level", "0", "4 6", at(4, 6, 3)},
		{"a mark is a face there", "0", "near stool", at(4, 5, 1.6)},
		{"a mark with its own height", "0", "stage", at(6, 3, 0.5)},
		{"a person is their face", "0", "maker", front.Sub(offTheSkinOf(front, vec{X: 4, Y: 5})).Sub(from).Unit()},
		{"a person's point", "0", "maker.front", front.Sub(from).Unit()},
		{"a person's hair", "0", "maker.hair", hair.Sub(from).Unit()},
		{"a cloth is its centre", "0", "frame", at(1, 1, 1.8)},
		{"an opening is its centre", "0", "window", at(4, 8, 1.5)},
		{"a practical", "0", "globe", at(3, 1, 1.1)},
		{"an object's middle", "0", "crate", at(7, 7, 0.4)},
		{"a bearing is level", "0", "170 deg", slant(170, 0)},
		{"a bearing, +y looks east", "90", "90 deg", vec{Y: 1}},
		{"a compass point", "0", "SE", slant(135, 0)},
		{"down", "0", "down", vec{Z: -1}},
		{"up", "0", "up", vec{Z: 1}},
		{"a bearing and down", "0", "170 deg 30 deg down", slant(170, -30)},
		{"a bearing and up", "0", "W 10 deg up", slant(270, 10)},
		{"the camera", "0", "camera", at(7, 1, 1.45)},
		{"the sun", "0", "sun", slant(170, 25)},
		{"the sun, +y looks south-east", "135", "sun", slant(35, 25)},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := built(t, "set: {north: "+row.north+` deg, rooms: {shop: {size: 8 x 8 x 5 m, openings: {window: {wall: far, size: 2 x 1 m, sill: 1 m}}}},
  objects: {crate: {kind: box, size: 0.8 x 0.8 x 0.8 m, at: 7 7}}}
marks: {near stool: 4 5, stage: 6 3 0.5}
people: {maker: {at: 5 5, faces: near stool, key: left}}
lamps: {lamp: {kit: P20, at: 1 2 3, aim: `+row.aim+`}}
cloths: {frame: {kind: black, size: 0.5 x 0.5 m, at: 1 1 1.8, faces: near stool}}
practicals: {globe: {kind: globe, at: 3 1 1.1, diameter: 0.1 m, flux: 400 lm}}
ambient: {sunlight: {reading: 60 klx, shape: sun, altitude: 25 deg, azimuth: 170 deg, at: 4 4 1, faces: sun}}
camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8, at: 7 1, height: 1.45 m}
`)
			lamp := s.emitter(t, "lamp")
			near(t, "front of the lamp", lamp.Centre, from)
			near(t, "axis", lamp.Basis.Z, row.want)
		})
	}
}

// offTheSkinOf returns the step from the skin to a front point, for who looks at a place.
func offTheSkinOf(front, at vec) vec {
	way := at.Sub(front)
	way.Z = 0
	return way.Unit().Mul(offTheSkin)
}

// A frame that faces +y: tilt turns its front up; roll turns it in its own plane, clockwise as seen from its front.
func TestTiltAndRollOfAFrame(t *testing.T) {
	sin, cos := math.Sincos(30 * math.Pi / 180)
	for _, row := range []struct {
		name, fields string
		normal, wide vec // wide is the way of the longer side, either sign
	}{
		{"plain", "", vec{Y: 1}, vec{X: 1}},
		{"leaned back", "tilt: 30 deg", vec{Y: cos, Z: sin}, vec{X: 1}},
		{"leaned forward", "tilt: -30 deg", vec{Y: cos, Z: -sin}, vec{X: 1}},
		{"lies flat, facing up", "tilt: 90 deg", vec{Z: 1}, vec{X: 1}},
		{"rolled", "roll: 30 deg", vec{Y: 1}, vec{X: cos, Z: sin}},
		{"upright", "roll: 90 deg", vec{Y: 1}, vec{Z: 1}},
		{"leaned and rolled", "tilt: 30 deg, roll: 90 deg", vec{Y: cos, Z: sin}, vec{Y: -sin, Z: cos}},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := built(t, "cloths: {frame: {kind: muslin, size: 2 x 1 m, at: 1 1 1.8, faces: N, "+row.fields+"}}\n")
			m := s.surface(t, "frame").Mesh
			area, normal := facet(m)
			within(t, "area", area, 2, 1e-9)
			near(t, "front", normal, row.normal)
			middle := vec{}
			for _, p := range m.Positions {
				middle = middle.AddMul(0.25, p)
			}
			near(t, "centre", middle, vec{X: 1, Y: 1, Z: 1.8})
			wide := m.Positions[1].Sub(m.Positions[0]).Mul(0.5)
			if wide.Dot(row.wide) < 0 {
				wide = wide.Neg()
			}
			near(t, "longer side", wide, row.wide)
		})
	}
}

// What stands where it looks is a fault, in whatever way the two come together.
func TestNoWayAtAll(t *testing.T) {
	wantFault(t, misbuilt(t, "marks: {stool: 4 5}\npeople: {maker: {at: stool, faces: lamp, key: left}}\nlamps: {lamp: {kit: P20, at: 4 5 4, aim: down}}\n"),
		"faces the place it stands on")
}
