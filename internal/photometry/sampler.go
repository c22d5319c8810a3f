package photometry

import (
	"math"
	"sort"
)

// sampler draws places on a grid, each cell as often as its flux asks and evenly in solid angle inside it.
type sampler struct {
	column []float64   // column[i] is the flux of all columns before i
	below  [][]float64 // below[i][j] is the flux of the cells before j in column i
	total  float64     // lm
}

func newSampler(g *grid) sampler {
	var s sampler
	s.column = make([]float64, 1, len(g.lon))
	for i := range len(g.lon) - 1 {
		below := make([]float64, 1, len(g.colat))
		sum := 0.0
		for j := range len(g.colat) - 1 {
			sum += g.flux(i, j)
			below = append(below, sum)
		}
		s.below = append(s.below, below)
		s.total += sum
		s.column = append(s.column, s.total)
	}
	return s
}

// pick returns the interval of the rising sums that holds share u of their end, and how far through it that stands.
// An interval of no width is never picked.
func pick(sums []float64, u float64) (i int, share float64) {
	end := sums[len(sums)-1]
	x := min(u*end, math.Nextafter(end, 0))
	i = sort.Search(len(sums)-2, func(i int) bool { return sums[i+1] > x })
	return i, (x - sums[i]) / (sums[i+1] - sums[i])
}

// place is a sampled place on a grid: longitude in radians, sine and cosine of the colatitude.
type place struct {
	lon, sin, cos float64
	pdf           float64 // 1/sr
}

func (s *sampler) sample(g *grid, u, v float64) place {
	i, du := pick(s.column, u)
	j, dv := pick(s.below[i], v)
	h := g.hav[j] + dv*(g.hav[j+1]-g.hav[j])
	return place{
		lon: g.lon[i]*degree + du*g.width(i),
		sin: 2 * math.Sqrt(h*(1-h)),
		cos: 1 - 2*h,
		pdf: s.density(g, i, j),
	}
}

// density returns the density, per steradian, inside cell (i, j).
func (s *sampler) density(g *grid, i, j int) float64 {
	return g.flux(i, j) / (s.total * g.solidAngle(i, j))
}
