package photometry

import "math"

// grid is intensity on a mesh of longitude and colatitude about some pole, bilinear between its nodes and zero outside.
type grid struct {
	lon, colat []float64 // degrees, ascending; lon spans at most 360, colat lies in 0 to 180
	sin, cos   []float64 // of colat
	hav        []float64 // sin²(colat/2): solid angle is 2·Δlon·Δhav, exact also close to the pole
	cd         [][]float64
}

func newGrid(lon, colat []float64, cd [][]float64) grid {
	g := grid{lon: lon, colat: colat, cd: cd}
	for _, t := range colat {
		s, c := math.Sincos(t * degree)
		h := math.Sin(t * degree / 2)
		g.sin, g.cos, g.hav = append(g.sin, s), append(g.cos, c), append(g.hav, h*h)
	}
	return g
}

// slack, in degrees, keeps a direction that rounding moved a hair past the last measured angle inside the mesh.
const slack = 1e-9

// locate returns the index i of the interval [a[i], a[i+1]] that holds x and how far along it x stands, 0 to 1.
func locate(a []float64, x float64) (i int, share float64, inside bool) {
	last := len(a) - 1
	if !(x >= a[0]-slack && x <= a[last]+slack) {
		return 0, 0, false
	}
	low, high := 0, last
	for high-low > 1 {
		if mid := int(uint(low+high) >> 1); a[mid] <= x {
			low = mid
		} else {
			high = mid
		}
	}
	return low, min(max((x-a[low])/(a[high]-a[low]), 0), 1), true
}

// cell returns the cell that holds a place and the shares of the way through it.
func (g *grid) cell(lon, colat float64) (i, j int, s, t float64, inside bool) {
	x := g.lon[0] + math.Mod(lon-g.lon[0], turn)
	if x < g.lon[0] {
		x += turn
	}
	if x > g.lon[len(g.lon)-1]+slack {
		x -= turn
	}
	i, s, inside = locate(g.lon, x)
	if !inside {
		return 0, 0, 0, 0, false
	}
	j, t, inside = locate(g.colat, colat)
	return i, j, s, t, inside
}

// at returns the intensity at a place given in degrees.
func (g *grid) at(lon, colat float64) float64 {
	i, j, s, t, inside := g.cell(lon, colat)
	if !inside {
		return 0
	}
	near, far := g.cd[i], g.cd[i+1]
	return (1-s)*((1-t)*near[j]+t*near[j+1]) + s*((1-t)*far[j]+t*far[j+1])
}

// width returns the longitude a column of cells spans, in radians.
func (g *grid) width(i int) float64 { return (g.lon[i+1] - g.lon[i]) * degree }

// solidAngle returns that of cell (i, j), in steradians.
func (g *grid) solidAngle(i, j int) float64 { return g.width(i) * 2 * (g.hav[j+1] - g.hav[j]) }

// flux returns the exact integral over cell (i, j), in lumens. Over longitude the mean of the two edges stands; over
// colatitude (a + (b−a)(θ−θ0)/h)·sin θ integrates in closed form.
func (g *grid) flux(i, j int) float64 {
	a := (g.cd[i][j] + g.cd[i+1][j]) / 2
	b := (g.cd[i][j+1] + g.cd[i+1][j+1]) / 2
	h := (g.colat[j+1] - g.colat[j]) * degree
	rise := (g.sin[j+1] - g.sin[j]) - h*g.cos[j+1]
	return max(0, g.width(i)*(a*2*(g.hav[j+1]-g.hav[j])+(b-a)*rise/h))
}
