package daylight

import "math"

// twilightPieces give the illuminance of level ground by sun and clear sky, log10 lx as a cubic of altitude/90°
// [ESAA], page 491; coefficients from memory, confirmed in three public programs. Each holds down to its
// altitude.
var twilightPieces = []struct {
	down         float64 // degrees
	coefficients [4]float64
}{
	{20, [4]float64{3.74, 3.97, -4.07, 1.47}},
	{5, [4]float64{3.05, 13.28, -45.98, 64.33}},
	{-0.8, [4]float64{2.88, 22.26, -207.64, 1034.30}},
	{-5, [4]float64{2.88, 21.81, -258.11, -858.36}},
	{-12, [4]float64{2.70, 12.17, -431.69, -1899.83}},
	{darkest, [4]float64{13.84, 262.72, 1447.42, 2797.93}},
}

const (
	// darkest is the altitude at which twilight ends; below it the sky is taken to be as it is there.
	darkest = -18.0
	// twilightBlend is the depth (degrees) below each join over which one piece passes into the next. The published pieces part
	// by up to 0.014 stop where they meet, which a light clock would show as a jump.
	twilightBlend = 1.0
)

// groundByClearSky returns the illuminance (lx) of level ground by sun and clear sky at an unrefracted altitude of the sun
// (degrees), -18 to 90, continuous and never falling with altitude. At and above each join the figures are the published ones.
func groundByClearSky(altitude float64) float64 {
	altitude = max(altitude, darkest)
	i := 0
	for i < len(twilightPieces)-1 && altitude < twilightPieces[i].down {
		i++
	}
	exponent := twilightPiece(i, altitude)
	if i > 0 {
		above := smooth(1 - (twilightPieces[i-1].down-altitude)/twilightBlend)
		exponent += above * (twilightPiece(i-1, altitude) - exponent)
	}
	return math.Pow(10, exponent)
}

func twilightPiece(i int, altitude float64) float64 {
	c, x := twilightPieces[i].coefficients, altitude/90
	return c[0] + x*(c[1]+x*(c[2]+x*c[3]))
}

// smooth rises from 0 at 0 to 1 at 1, level at both ends.
func smooth(x float64) float64 {
	x = max(0, min(1, x))
	return x * x * (3 - 2*x)
}
