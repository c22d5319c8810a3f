package transport

import (
	"math"

	"gloam/internal/geometry"
	"gloam/internal/numeric"
)

// HenyeyGreenstein returns the phase function of [HenyeyGreenstein1941], per sr: how much of what is scattered goes on at an
// angle of the given cosine to its way. forward is the mean cosine, −1 to 1.
func HenyeyGreenstein(cos, forward float64) float64 {
	d := 1 + forward*forward - 2*forward*cos
	return (1 - forward*forward) / (4 * math.Pi * d * math.Sqrt(d))
}

// fade returns what haze leaves of light along a ray between two distances.
func (w *world) fade(p, direction geometry.Vector, near, far float64) float64 {
	h := w.scene.Haze
	if h == nil {
		return 1
	}
	return math.Exp(-h.Extinction * h.Along(p, direction, near, far))
}

// scatter makes a place in the haze along a flight one from which emitters are looked at: light that haze turns once on its
// way to a receptor or an eye. Places are picked as the fading has it, so that each counts alike.
func (t *tracer) scatter(p *path, near, far float64, points *numeric.Points) {
	h := t.scene.Haze
	a, b := h.Clip(p.origin, p.direction, near, far)
	met := -math.Expm1(-h.Extinction * (b - a))
	u, _ := points.Next()
	if met == 0 {
		return
	}
	at := a - math.Log1p(-u*met)/h.Extinction
	s := stop{cargo: p.cargo, picks: 1, vertex: vertex{place: p.origin.AddMul(at, p.direction), onward: p.direction, kind: hazeVertex, haze: h}}
	s.turns++
	for k := range s.beta {
		s.beta[k] *= met * h.Albedo
	}
	t.visits.stops = append(t.visits.stops, s)
}
