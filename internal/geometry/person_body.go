package geometry

import "math"

// girth is one outline of a limb or the trunk, square to its axis: a superellipse |x/a|^n + |y/b|^n = 1 about a place.
type girth struct {
	at      Vector
	a, b, n float64
}

// trunk runs from the seat to a collar around the neck. Its ends are flat.
var trunk = []girth{
	{Vector{0, -0.012, -0.470}, 0.030, 0.025, 2.2},
	{Vector{0, -0.012, -0.462}, 0.072, 0.052, 2.2},
	{Vector{0, -0.012, -0.430}, 0.096, 0.064, 2.3},
	{Vector{0, -0.010, -0.395}, 0.098, 0.065, 2.3},
	{Vector{0, -0.006, -0.340}, 0.086, 0.060, 2.3},
	{Vector{0, -0.006, -0.290}, 0.082, 0.057, 2.3},
	{Vector{0, -0.010, -0.230}, 0.091, 0.063, 2.4},
	{Vector{0, -0.013, -0.180}, 0.100, 0.066, 2.5},
	{Vector{0, -0.017, -0.152}, 0.112, 0.060, 2.4},
	{Vector{0, -0.018, -0.135}, 0.114, 0.051, 2.3},
	{Vector{0, -0.018, -0.122}, 0.101, 0.045, 2.2},
	{Vector{0, -0.018, -0.111}, 0.076, 0.043, 2.1},
	{Vector{0, -0.018, -0.102}, 0.052, 0.041, 2.0},
	{Vector{0, -0.018, -0.0960}, 0.0400, 0.0405, 2.0},
	{Vector{0, -0.018, -0.0935}, 0.0375, 0.0395, 2.0},
	{Vector{0, -0.018, -0.0925}, 0.0350, 0.0375, 2.0},
}

// arm returns the arm of the side at ±x: hanging, or laid on the thigh.
func (p Person) arm(side float64) []girth {
	at := func(x, y, z float64) Vector { return Vector{side * x, y, z} }
	elbow, wrist, tip := at(0.126, -0.020, -0.315), at(0.128, 0.028, -0.452), at(0.122, 0.050, -0.535)
	if p.seated() {
		elbow, wrist, tip = at(0.130, 0.010, -0.315), at(0.085, 0.135, -0.335), at(0.060, 0.200, -0.352)
	}
	return []girth{
		{at(0.086, -0.017, -0.117), 0.018, 0.024, 2},
		{at(0.102, -0.017, -0.133), 0.031, 0.038, 2},
		{at(0.110, -0.018, -0.165), 0.034, 0.039, 2},
		{at(0.118, -0.019, -0.235), 0.028, 0.032, 2},
		{elbow, 0.024, 0.026, 2},
		{elbow.AddMul(0.35, wrist.Sub(elbow)), 0.024, 0.025, 2},
		{wrist, 0.016, 0.019, 2},
		{wrist.AddMul(0.5, tip.Sub(wrist)), 0.013, 0.024, 2.2},
		{tip, 0.007, 0.012, 2.2},
	}
}

// leg returns the leg and the foot of the side at ±x, bent at the knee as much as the height of the hip asks; who sits has
// the feet before the seat.
func (p Person) leg(side float64) (leg, foot []girth) {
	floor := -p.face() / p.Height
	hip := Vector{side * 0.050, -0.006, -hipDown}
	ankle := Vector{side * 0.056, -0.012, floor + ankleHeight}
	if p.seated() {
		ankle.Y, ankle.X = 0.235, side*0.066
	}
	way := ankle.Sub(hip)
	// A leg that cannot reach the floor hangs.
	long := math.Min(way.Length(), 0.9999*(thighLength+shinLength))
	way = way.Unit()
	ankle = hip.AddMul(long, way)
	// The law of cosines gives the knee, which bends forward.
	along := (long*long + thighLength*thighLength - shinLength*shinLength) / (2 * long)
	forward := Vector{1, 0, 0}.Cross(way).Unit()
	knee := hip.AddMul(along, way).AddMul(math.Sqrt(math.Max(0, thighLength*thighLength-along*along)), forward)
	leg = []girth{
		{hip.AddMul(-0.15, knee.Sub(hip)), 0.030, 0.035, 2.2},
		{hip, 0.050, 0.055, 2.2},
		{hip.AddMul(0.35, knee.Sub(hip)), 0.047, 0.050, 2.1},
		{hip.AddMul(0.75, knee.Sub(hip)), 0.037, 0.039, 2},
		{knee, 0.033, 0.034, 2},
		{knee.AddMul(0.3, ankle.Sub(knee)), 0.031, 0.034, 2},
		{knee.AddMul(0.75, ankle.Sub(knee)), 0.021, 0.023, 2},
		{ankle, 0.019, 0.022, 2},
		{ankle.AddMul(0.08, ankle.Sub(knee)), 0.018, 0.021, 2},
	}
	at := func(forward, down float64) Vector { return ankle.Add(Vector{side * 0.10 * forward, forward, -down}) }
	foot = []girth{
		{at(-0.036, 0.026), 0.010, 0.010, 2.4},
		{at(-0.026, 0.020), 0.018, 0.019, 2.4},
		{at(0.010, 0.018), 0.021, 0.024, 2.2},
		{at(0.055, 0.024), 0.026, 0.016, 2.4},
		{at(0.090, 0.029), 0.026, 0.011, 2.4},
		{at(0.108, 0.031), 0.015, 0.008, 2.4},
	}
	return leg, foot
}

// loft returns a closed smooth surface through outlines along a curve, so many rings from each to the next.
func loft(rows []girth, subdivisions, slices int) Mesh {
	last := (len(rows) - 1) * subdivisions
	return lathe(last+3, slices, func(ring, slice int) Vector {
		at := float64(max(0, min(ring-1, last))) / float64(subdivisions)
		g := girthBetween(rows, at)
		if ring == 0 || ring == last+2 {
			return g.at
		}
		before, after := girthBetween(rows, math.Max(at-0.05, 0)), girthBetween(rows, math.Min(at+0.05, float64(len(rows)-1)))
		along := after.at.Sub(before.at).Unit()
		// No part of a body runs along x, which keeps the outlines from turning about the axis.
		x := Vector{1, 0, 0}.AddMul(-along.X, along).Unit()
		u, v := superellipse(2*math.Pi*float64(slice)/float64(slices), g.n)
		return g.at.AddMul(g.a*u, x).AddMul(g.b*v, along.Cross(x))
	})
}

// superellipse returns the point of |u|^n + |v|^n = 1 in a direction, counted from +u toward +v.
func superellipse(angle, n float64) (u, v float64) {
	v, u = math.Sincos(angle)
	k := math.Pow(math.Pow(math.Abs(u), n)+math.Pow(math.Abs(v), n), -1/n)
	return k * u, k * v
}

func girthBetween(rows []girth, at float64) girth {
	i := min(int(at), len(rows)-2)
	mix := cubic(at - float64(i))
	p, q, r, s := &rows[max(i-1, 0)], &rows[i], &rows[i+1], &rows[min(i+2, len(rows)-1)]
	return girth{
		Vector{mix(p.at.X, q.at.X, r.at.X, s.at.X), mix(p.at.Y, q.at.Y, r.at.Y, s.at.Y), mix(p.at.Z, q.at.Z, r.at.Z, s.at.Z)},
		mix(p.a, q.a, r.a, s.a), mix(p.b, q.b, r.b, s.b), mix(p.n, q.n, r.n, s.n),
	}
}

// cubic returns Catmull and Rom's curve from b to c of four values in a row, a share t of the way.
func cubic(t float64) func(a, b, c, d float64) float64 {
	return func(a, b, c, d float64) float64 {
		return b + t/2*(c-a+t*(2*a-5*b+4*c-d+t*(3*(b-c)+d-a)))
	}
}
