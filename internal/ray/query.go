package ray

import "math"

// query is a ray made ready for the plain kernel. The assembly works the same values out for itself.
type query struct {
	// For boxes: the time at which the ray meets a plane is (origin − plane)·inverse, with inverse = −1/direction. The
	// origins are moved apart by the slack so that a box is entered early and left late.
	nearOrigin, farOrigin, inverse [3]float32
	near, slack                    float32
	nearPlane                      [3]int32 // which of node.planes the ray meets first on each axis

	// For triangles: the shear of [WOOP2013], which carries the ray to the z axis. axes are kx, ky, kz of that paper, but
	// not swapped by the sign of the direction, since both sides of a triangle count. Coordinates are taken as origin −
	// position, which changes the sign of all three and of none of their products.
	axes   [3]int32
	origin [3]float32 // by axes
	shear  [3]float32 // x, y; z is −1/direction

	hit Hit // so far; T is where the ray ends while there is none
}

// slackShare is the slack of box tests as a share of the largest coordinate in play. Rounding moves the edges of a
// sheared triangle by at most 10·2⁻²⁴ of it and a box plane by 6·2⁻²⁴ on either side; 256·2⁻²⁴ leaves room, and
// few triangles doubtful (see doubtShare).
const slackShare = 1.0 / (1 << 16)

// set makes the query for a usable ray through things whose coordinates reach up to the given size.
func (q *query) set(r *Ray, reach float32) {
	o, d := &r.Origin, &r.Direction
	for k := range 3 {
		reach = max(reach, abs(o[k]))
	}
	slack := float32(reach * slackShare)
	q.slack = slack
	kz := 0
	for k := range 3 {
		q.inverse[k] = -1 / d[k]
		q.nearOrigin[k], q.farOrigin[k], q.nearPlane[k] = o[k]+slack, o[k]-slack, int32(2*k)
		if math.Signbit(float64(d[k])) { // of −0 too, whose inverse is infinite with that sign
			q.nearOrigin[k], q.farOrigin[k], q.nearPlane[k] = o[k]-slack, o[k]+slack, int32(2*k+1)
		}
		if abs(d[k]) > abs(d[kz]) {
			kz = k
		}
	}
	// Adding 0 makes +0 of −0, whose bits the kernels could not order.
	q.near, q.hit = max(r.Near, 0)+0, Hit{T: r.Far + 0, Triangle: math.MaxInt32}
	kx, ky := (kz+1)%3, (kz+2)%3
	q.axes = [3]int32{int32(kx), int32(ky), int32(kz)}
	q.origin = [3]float32{o[kx], o[ky], o[kz]}
	q.shear = [3]float32{d[kx] / d[kz], d[ky] / d[kz], q.inverse[kz]}
}
