package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// block intersects the triangles of the block whose place stands in node.
func (k *kernel) block() {
	target("block")
	Comment("Shear the corner positions.")
	place, block := k.node, GP64()
	ANDL(U32(0x7fffffff), place.As32())
	SHLQ(U8(blockShift), place)
	t := Load(Param("t"), GP64())
	MOVQ(at(t, treeBlocks), block)
	ADDQ(place, block)
	var p [3]reg.VecVirtual
	p[2] = k.fromOrigin(block, 2)
	for i := range 2 {
		p[i] = k.fromOrigin(block, i)
		s := YMM()
		VBROADCASTSS(at(k.scratch, scratchShear+4*i), s)
		VMULPS(p[2], s, s)
		VSUBPS(s, p[i], p[i])
	}
	for i := range 2 {
		VMOVUPS(p[i], at(k.scratch, scratchLanes+32*i))
	}
	Comment("Lay them out by triangle.")
	corner := YMM()
	VPMOVZXWD(at(block, blockCorners), corner)
	var x, y [3]reg.VecVirtual
	for c := range 3 {
		if c > 0 {
			next := YMM()
			VPSRLD(U8(3), corner, next)
			corner = next
		}
		x[c], y[c] = YMM(), YMM()
		VPERMPS(p[0], corner, x[c])
		VPERMPS(p[1], corner, y[c])
	}
	Comment("Edge functions, each a difference of two rounded products.")
	var edge [3]reg.VecVirtual
	for i, pair := range [3][2]int{{2, 1}, {0, 2}, {1, 0}} {
		s := YMM()
		edge[i] = YMM()
		VMULPS(y[pair[1]], x[pair[0]], edge[i])
		VMULPS(x[pair[1]], y[pair[0]], s)
		VSUBPS(s, edge[i], edge[i])
	}
	Comment("Inside: none is negative, or none positive.")
	low, high, zero, inside, some := YMM(), YMM(), YMM(), YMM(), GP32()
	VMINPS(edge[1], edge[0], low)
	VMAXPS(edge[1], edge[0], high)
	VMINPS(edge[2], low, low)
	VMAXPS(edge[2], high, high)
	VXORPS(zero, zero, zero)
	VCMPPS(greaterOrEqual, zero, low, low)
	VCMPPS(lessOrEqual, zero, high, high)
	VORPS(high, low, inside)
	VMOVMSKPS(inside, some)
	TESTL(some, some)
	JNZ(LabelRef("inside"))
	Label("restore")
	k.origins()
	JMP(LabelRef("pop"))
	target("inside")
	k.inside(block, edge, inside)
}

// fromOrigin returns the ray's origin less the corner positions of a block, along an axis of the shear.
func (k *kernel) fromOrigin(block reg.Register, i int) reg.VecVirtual {
	axis, p := GP64(), YMM()
	MOVL(at(k.scratch, scratchAxes+4*i), axis.As32())
	VBROADCASTSS(at(k.scratch, scratchOrigin+4*i), p)
	VSUBPS(index(block, axis), p, p)
	return p
}

// inside looks at how far along the ray the triangles are whose edges it passes within.
func (k *kernel) inside(block reg.Register, edge [3]reg.VecVirtual, inside reg.VecVirtual) {
	Comment("Weights of the corners.")
	inverse, sum := YMM(), YMM()
	VADDPS(edge[1], edge[0], sum)
	VADDPS(edge[2], sum, sum)
	VBROADCASTSS(k.one, inverse)
	VDIVPS(sum, inverse, inverse)
	for i := range 3 {
		VMULPS(inverse, edge[i], edge[i])
	}
	Comment("Their mean distance, and how far from the ray the farthest corner is.")
	z, away, farthest, corner, t := k.fromOrigin(block, 2), YMM(), YMM(), YMM(), YMM()
	magnitude, y := YMM(), YMM()
	VBROADCASTSS(k.magnitude, magnitude)
	VANDPS(at(k.scratch, scratchLanes), magnitude, away)
	VANDPS(at(k.scratch, scratchLanes+32), magnitude, y)
	VMAXPS(y, away, away)
	VANDPS(magnitude, sum, sum)
	VPMOVZXWD(at(block, blockCorners), corner)
	for c := range 3 {
		s := YMM()
		if c > 0 {
			VPSRLD(U8(3), corner, corner)
		}
		VPERMPS(z, corner, s)
		VMULPS(s, edge[c], s)
		if c == 0 {
			t = s
			VPERMPS(away, corner, farthest)
			continue
		}
		VADDPS(s, t, t)
		VPERMPS(away, corner, y)
		VMAXPS(y, farthest, farthest)
	}
	s, some := YMM(), GP32()
	VBROADCASTSS(at(k.scratch, scratchShear+8), s)
	VMULPS(s, t, t)
	if k.nearest {
		VMOVUPS(edge[1], at(k.scratch, scratchLanes+32))
		VMOVUPS(edge[2], at(k.scratch, scratchLanes+64))
	}
	doubtful, earliest := k.doubtful(farthest, sum), YMM()
	VANDPS(inside, doubtful, doubtful)
	VMOVMSKPS(doubtful, some)
	VMOVAPS(k.near, earliest)
	TESTL(some, some)
	JZ(LabelRef("certain"))
	k.hold(block, t, earliest, doubtful)
	Label("certain")
	Comment("Adding 0 makes +0 of −0, whose bits would not order as a limit of the walk.")
	VXORPS(s, s, s)
	VADDPS(s, t, t)
	k.within(t, earliest, s)
	VANDPS(s, inside, inside)
	VMOVMSKPS(inside, some)
	TESTL(some, some)
	JZ(LabelRef("restore"))
	if k.nearest {
		k.improve(t, inside)
		JMP(LabelRef("restore"))
	} else {
		JMP(LabelRef("hit"))
	}
}

// improve takes the nearest of the hits inside, unless the one there is as near and has a lower number.
func (k *kernel) improve(t, inside reg.VecVirtual) {
	Comment("The nearest: the least over the lanes, then the first lane that has it.")
	least, s := YMM(), YMM()
	VBROADCASTSS(k.infinity, least)
	VBLENDVPS(inside, t, least, least)
	VEXTRACTF128(U8(1), least, s.AsX())
	VMINPS(s.AsX(), least.AsX(), least.AsX())
	VPERMILPS(U8(0x4e), least.AsX(), s.AsX())
	VMINPS(s.AsX(), least.AsX(), least.AsX())
	VPERMILPS(U8(0xb1), least.AsX(), s.AsX())
	VMINPS(s.AsX(), least.AsX(), least.AsX())
	VBROADCASTSS(least.AsX(), least)
	VCMPPS(equal, least, t, s)
	VANDPS(s, inside, inside)
	lane, number, numbers := GP64(), GP32(), GP64()
	VMOVMSKPS(inside, lane.As32())
	BSFL(lane.As32(), lane.As32())
	tree := Load(Param("t"), GP64())
	MOVQ(at(tree, treeTriangles), numbers)
	SHRQ(U8(2), k.node) // a block has four times the bytes of its numbers
	ADDQ(k.node, numbers)
	MOVL(Mem{Base: numbers, Index: lane, Scale: 4}, number)
	VUCOMISS(k.far.AsX(), least.AsX())
	JB(LabelRef("nearer"))
	CMPL(number, at(k.scratch, scratchNumber))
	JGE(LabelRef("restore"))
	Label("nearer")
	VMOVAPS(least, k.far)
	VMOVD(least.AsX(), k.limit)
	SHRL(U8(keyShift), k.limit)
	MOVL(number, at(k.scratch, scratchNumber))
	h := Load(Param("h"), GP64())
	MOVL(number, at(h, hitTriangle))
	VMOVSS(least.AsX(), at(h, 0))
	for i := 1; i < 3; i++ {
		word := GP32()
		MOVL(Mem{Base: k.scratch, Disp: scratchLanes + 32*i, Index: lane, Scale: 4}, word)
		MOVL(word, at(h, 4*i))
	}
}
