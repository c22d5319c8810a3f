package daylight

import (
	"math"

	"gloam/internal/geometry"
)

// generalSky is a relative distribution of luminance over the sky [CIES011]: gradation a, b from zenith to horizon, and
// indicatrix c, d, e about the sun. Numbers of clauses and equations are from memory.
type generalSky struct{ a, b, c, d, e float64 }

// standardSkies are the 15 types of [CIES011], table 1, by number; number 0 is the traditional overcast sky of its clause 6.
var standardSkies = [16]generalSky{
	1:  {4.0, -0.70, 0, -1.0, 0},
	2:  {4.0, -0.70, 2, -1.5, 0.15},
	3:  {1.1, -0.80, 0, -1.0, 0},
	4:  {1.1, -0.80, 2, -1.5, 0.15},
	5:  {0, -1.00, 0, -1.0, 0},
	6:  {0, -1.00, 2, -1.5, 0.15},
	7:  {0, -1.00, 5, -2.5, 0.30},
	8:  {0, -1.00, 10, -3.0, 0.45},
	9:  {-1.0, -0.55, 2, -1.5, 0.15},
	10: {-1.0, -0.55, 5, -2.5, 0.30},
	11: {-1.0, -0.55, 10, -3.0, 0.45},
	12: {-1.0, -0.32, 10, -3.0, 0.45},
	13: {-1.0, -0.32, 16, -3.0, 0.30},
	14: {-1.0, -0.15, 16, -3.0, 0.30},
	15: {-1.0, -0.15, 24, -2.8, 0.15},
}

// traditional is the number of the traditional overcast sky, three times as bright at the zenith as at the horizon.
const traditional = 0

// gradation returns the relative luminance at an altitude's sine, before the indicatrix [CIES011], equation 3; equation 7 for
// the traditional overcast sky.
func (s generalSky) gradation(sine float64) float64 {
	switch {
	case s == standardSkies[traditional]:
		return (1 + 2*sine) / 3
	case sine <= 0:
		return 1
	}
	return 1 + s.a*math.Exp(s.b/sine)
}

// indicatrix returns the scattering at an angle from the sun, in radians [CIES011], equation 4.
func (s generalSky) indicatrix(chi float64) float64 {
	cosine := math.Cos(chi)
	return 1 + s.c*(math.Exp(s.d*chi)-math.Exp(s.d*math.Pi/2)) + s.e*cosine*cosine
}

// shape is a general sky made ready for many positions of the sun: the gradation and the indicatrix at the points by which the
// patches are averaged.
type shape struct {
	round  bool                         // the sun's place does not matter
	rows   [len(bandPatches)][3]float64 // gradation × weight of a row of points; a band's weights sum to 1
	around [indicatrixSteps + 2]float64 // indicatrix by the sine of half the angle from the sun
}

// indicatrixSteps is how finely the indicatrix is tabled: 1024 steps err by less than 1e-4 of it.
const indicatrixSteps = 1024

// shapes are the standard skies made ready.
var shapes = func() (all [len(standardSkies)]*shape) {
	for i, s := range standardSkies {
		all[i] = s.ready()
	}
	return all
}()

func (s generalSky) ready() *shape {
	r := &shape{round: s.c == 0 && s.e == 0}
	for band := range r.rows {
		low, high := bandSines(band)
		for row, node := range gaussNodes {
			r.rows[band][row] = gaussWeights[row] * s.gradation(low+(high-low)*node)
		}
	}
	for i := range r.around {
		r.around[i] = s.indicatrix(2 * math.Asin(min(1, float64(i)/indicatrixSteps)))
	}
	return r
}

// Gauss's three points and weights on 0 to 1.
var (
	gaussNodes   = [3]float64{0.5 - math.Sqrt(0.15), 0.5, 0.5 + math.Sqrt(0.15)}
	gaussWeights = [3]float64{5.0 / 18, 8.0 / 18, 5.0 / 18}
)

// patchPoints are the nine points by which each patch is averaged, three rows of three; they share the patch equally but for
// Gauss's weights.
var patchPoints = func() (all [PatchCount][3][3]geometry.Vector) {
	i := 0
	for band, count := range bandPatches {
		low, high := bandSines(band)
		for k := range count {
			for row, up := range gaussNodes {
				for column, across := range gaussNodes {
					azimuth := 2 * math.Pi * (float64(k) + across - 0.5) / float64(count)
					all[i][row][column] = toward(math.Asin(low+(high-low)*up), azimuth)
				}
			}
			i++
		}
	}
	return all
}()

// fill sets each patch's mean luminance, relative, for the sun in a direction.
func (r *shape) fill(sun geometry.Vector, into *[PatchCount]float64) {
	i := 0
	for band, count := range bandPatches {
		for range count {
			into[i] = r.mean(band, sun, &patchPoints[i])
			i++
		}
	}
}

func (r *shape) mean(band int, sun geometry.Vector, points *[3][3]geometry.Vector) float64 {
	sum := 0.0
	for row, weight := range r.rows[band] {
		if r.round {
			sum += weight
			continue
		}
		p := &points[row]
		sum += weight * (gaussWeights[0]*r.at(sun, &p[0]) + gaussWeights[1]*r.at(sun, &p[1]) + gaussWeights[2]*r.at(sun, &p[2]))
	}
	return sum
}

// at returns the indicatrix toward a point.
func (r *shape) at(sun geometry.Vector, point *geometry.Vector) float64 {
	cosine := sun.X*point.X + sun.Y*point.Y + sun.Z*point.Z
	x := indicatrixSteps * math.Sqrt(max(0, (1-cosine)/2))
	i := min(int(x), indicatrixSteps)
	return r.around[i] + (x-float64(i))*(r.around[i+1]-r.around[i])
}
