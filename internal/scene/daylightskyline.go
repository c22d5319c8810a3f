package scene

import (
	"math"

	"gloam/internal/daylight"
	"gloam/internal/geometry"
	"gloam/internal/plan"
	"gloam/internal/unit"
)

const (
	// skylineReach is how far off a skyline stands, m: far enough to be the same from everywhere on a set.
	skylineReach = groundReach
	// skylineDegrees is the width of one flat piece of it.
	skylineDegrees = 1
	// skylineTop is the highest it is built, degrees: what stands nearly overhead is built as if it left that much sky.
	skylineTop = 85
)

// skyline stands a ring about the set, as high as the skyline.
func (b *builder) skyline(s *plan.Skyline, north unit.Bearing) *daylight.Skyline {
	line, err := s.True()
	if err != nil {
		b.failed("skyline.points", err)
		return nil
	}
	var m geometry.Mesh
	const pieces = 360 / skylineDegrees
	for i := range pieces {
		azimuth := unit.Degree(i * skylineDegrees)
		sin, cos := math.Sincos(azimuth.Radians())
		height := line.Height(unit.Bearing(math.Mod(float64(azimuth)+float64(north), 360)))
		out := geometry.Vector{X: skylineReach * sin, Y: skylineReach * cos}
		top := skylineReach * math.Tan(min(height, skylineTop).Radians())
		foot := min(top, -skylineReach*math.Tan(unit.Degree(skylineDegrees).Radians()))
		m.Positions = append(m.Positions, out.AddMul(foot, geometry.Up), out.AddMul(top, geometry.Up))
		now, next := int32(2*i), int32(2*((i+1)%pieces))
		m.Triangles = append(m.Triangles, [3]int32{now, now + 1, next}, [3]int32{next, now + 1, next + 1})
	}
	b.add("skyline", m, b.material("skyline.material", s.Material))
	return line
}
