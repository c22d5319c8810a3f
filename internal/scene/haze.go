package scene

import (
	"math"

	"gloam/internal/geometry"
	"gloam/internal/plan"
	"gloam/internal/unit"
)

// hazeReach is how far haze goes that fills no room, m: as far as the ground.
const hazeReach = groundReach

func (b *builder) haze() {
	h := b.view.Document.Set.Haze
	if h == nil {
		return
	}
	to := &Haze{Albedo: float64(h.Scattered), Forward: h.Forward,
		Low:  geometry.Vector{X: -hazeReach, Y: -hazeReach, Z: -hazeReach},
		High: geometry.Vector{X: hazeReach, Y: hazeReach, Z: hazeReach}}
	if h.Visibility != nil {
		to.Extinction = float64(unit.AtVisibility(*h.Visibility))
	} else {
		to.Extinction = float64(*h.Extinction)
	}
	for i := range b.view.Document.Set.Rooms {
		if r := &b.view.Document.Set.Rooms[i]; r.Name == h.In {
			to.Low, to.High = b.inside(&r.Value)
		}
	}
	b.setup.Scene.Haze = to
}

// inside is the box that a room encloses, its vault included.
func (b *builder) inside(r *plan.Room) (low, high geometry.Vector) {
	low = b.where("", r.Corner, 0)
	high = low.Add(geometry.Vector{X: float64(r.Size.Width), Y: float64(r.Size.Depth), Z: float64(r.Size.Height + r.Vault)})
	return low, high
}

// doubtOfHaze is how far a lamp's light along its axis is off where the haze is thicker or thinner than stated.
func (b *builder) doubtOfHaze(e *Emitter) []Doubt {
	h := b.setup.Scene.Haze
	if h == nil {
		return nil
	}
	way := h.Along(e.Centre, e.Basis.Z, 0, hazeReach)
	lost := unit.Stop(h.Extinction * way * math.Log2E)
	return []Doubt{{"how thick the haze is", lost * unit.Stop(b.view.Document.Set.Haze.Doubt)}}
}

// Along returns how far a ray runs through the haze between two distances.
func (h *Haze) Along(from, direction geometry.Vector, near, far float64) float64 {
	a, b := h.Clip(from, direction, near, far)
	return b - a
}

// Clip returns the part of a ray between two distances that lies in the haze; where none does, both ends are near.
func (h *Haze) Clip(from, direction geometry.Vector, near, far float64) (a, b float64) {
	a, b = near, far
	for _, k := range [3][4]float64{
		{from.X, direction.X, h.Low.X, h.High.X}, {from.Y, direction.Y, h.Low.Y, h.High.Y}, {from.Z, direction.Z, h.Low.Z, h.High.Z},
	} {
		if k[1] == 0 {
			if k[0] < k[2] || k[0] > k[3] {
				return near, near
			}
			continue
		}
		t0, t1 := (k[2]-k[0])/k[1], (k[3]-k[0])/k[1]
		a, b = math.Max(a, math.Min(t0, t1)), math.Min(b, math.Max(t0, t1))
	}
	if !(a < b) {
		return near, near
	}
	return a, b
}
