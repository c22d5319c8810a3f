package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// within makes the mask of times no earlier than some and no later than the nearest hit.
func (k *kernel) within(t, earliest, mask reg.VecVirtual) {
	s := YMM()
	VCMPPS(greaterOrEqual, earliest, t, s)
	VCMPPS(lessOrEqual, k.far, t, mask)
	VANDPS(s, mask, mask)
}

// doubtful makes the mask of triangles whose area, twice, is small beside the distance of their farthest corner: see
// doubtShare in package ray.
func (k *kernel) doubtful(farthest, area reg.VecVirtual) reg.VecVirtual {
	Comment("Doubtful where the area is small beside the distance of the farthest corner.")
	cube, s := YMM(), YMM()
	VMULPS(farthest, farthest, cube)
	VMULPS(farthest, cube, cube)
	VBROADCASTSS(k.doubtShare, s)
	VMULPS(s, cube, cube)
	VBROADCASTSS(k.doubtLeast, s)
	VADDPS(s, cube, cube)
	VBROADCASTSS(at(k.scratch, scratchSlack), s)
	VMULPS(s, area, area)
	VCMPPS(notLessOrEqual, area, cube, cube)
	return cube
}

// hold brings the times of doubtful triangles to within those at which the ray is in their own boxes, as query.hold
// in package ray, and makes the earliest that count.
func (k *kernel) hold(block reg.Register, t, earliest, doubtful reg.VecVirtual) {
	Comment("Hold T to the triangle's box.")
	held, least, latest := YMM(), YMM(), YMM()
	VMOVAPS(t, held)
	VMOVAPS(k.near, least)
	VBROADCASTSS(k.infinity, latest)
	for i := range 3 {
		enter, leave, corner := YMM(), YMM(), YMM()
		VBROADCASTSS(at(k.scratch, scratchNearOrigin+4*i), enter)
		VBROADCASTSS(at(k.scratch, scratchFarOrigin+4*i), leave)
		VSUBPS(at(block, 32*i), enter, enter)
		VSUBPS(at(block, 32*i), leave, leave)
		VMULPS(k.inverse[i], enter, enter)
		VMULPS(k.inverse[i], leave, leave)
		VPMOVZXWD(at(block, blockCorners), corner)
		first, last := YMM(), YMM()
		VPERMPS(enter, corner, first)
		VPERMPS(leave, corner, last)
		for range 2 {
			s := YMM()
			VPSRLD(U8(3), corner, corner)
			VPERMPS(enter, corner, s)
			VMINPS(first, s, first)
			VPERMPS(leave, corner, s)
			VMAXPS(last, s, last)
		}
		VMAXPS(least, first, least)
		VMAXPS(held, first, held)
		VMINPS(latest, last, latest)
	}
	VMINPS(held, latest, held)
	VBLENDVPS(doubtful, held, t, t)
	VBLENDVPS(doubtful, least, k.near, earliest)
}
