package transport

import (
	"math"

	"gloam/internal/geometry"
	"gloam/internal/ray"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
)

// Sunrays looks from receivers to the sun, past what stands in the way: the sun's straight light through the hours without a
// trace for each. It serves one call at a time.
type Sunrays struct {
	world   *world
	scratch ray.Scratch
}

// NewSunrays makes a scene ready. Layers of it that were kept (Request.Keep) save building it anew; nil is none.
func NewSunrays(s *scene.Scene, like *Layers) *Sunrays {
	return &Sunrays{world: newWorld(s, like.world())}
}

// Sunlit returns, for a sun of 1 lx square-on in a direction, what comes straight to a flat or dome receiver, by band, and the
// number of the opening it came in by (-1 for none). The ray goes to the middle of the disc: the edge of a shadow is passed
// at once, not in the two minutes that the sun takes. A spot looks at a surface and gets nothing straight.
func (r *Sunrays) Sunlit(receiver *scene.Receiver, toward geometry.Vector) (share spectrum.Band, opening int) {
	if receiver.Kind == scene.Spot || toward.Z <= 0 {
		return share, -1
	}
	weight := receiver.Normal.Dot(toward)
	if receiver.Kind == scene.Dome {
		weight = (1 + weight) / 2
	}
	if weight <= 0 {
		return share, -1
	}
	a, ok := r.world.shadow(receiver.Position, toward, r.world.offset, math.Inf(1), &r.scratch)
	switch {
	case !ok:
		return share, -1
	case a.clear:
		return flat(weight), a.opening
	}
	return a.share.Scale(weight), a.opening
}
