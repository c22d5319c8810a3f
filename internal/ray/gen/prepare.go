package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// prepare checks the ray, makes the query (see query.set in package ray) and loads what stays in registers.
func (k *kernel) prepare() {
	k.scratch, k.top, k.table = GP64(), GP64(), GP64()
	Load(Param("s"), k.scratch)
	Comment("To a cache line, so that no store straddles two.")
	ADDQ(U8(63), k.scratch)
	ANDQ(I8(-64), k.scratch)
	r := Load(Param("r"), GP64())
	o, d, zero, a, b := XMM(), XMM(), XMM(), XMM(), XMM()
	load3(r, 0, o)
	load3(r, rayDirection, d)
	near, far := XMM(), XMM()
	VMOVSS(at(r, rayNear), near)
	VMOVSS(at(r, rayFar), far)

	Comment("An origin within reach, all else finite, and a direction at all.")
	VXORPS(zero, zero, zero)
	VBROADCASTSS(k.magnitude, b)
	VANDPS(b, o, a)
	VBROADCASTSS(k.farthest, b)
	VCMPPS(lessOrEqual, b, a, a)
	c := XMM()
	VSUBPS(d, d, b)
	VSUBSS(near, near, c)
	VADDSS(c, b, b)
	VCMPPS(equal, zero, b, b)
	VANDPS(b, a, a)
	VCMPPS(notEqual, zero, d, b)
	finite, any := GP32(), GP32()
	VMOVMSKPS(a, finite)
	VMOVMSKPS(b, any)
	CMPL(finite, U32(15))
	JNE(LabelRef("nothing"))
	TESTL(U32(7), any)
	JZ(LabelRef("nothing"))

	Comment("The range, from 0 up. Adding 0 makes +0 of −0.")
	VMAXSS(zero, near, near)
	VADDSS(zero, near, near)
	VADDSS(zero, far, far)
	VUCOMISS(near, far)
	JB(LabelRef("nothing"))
	k.near, k.far, k.limit = YMM(), YMM(), GP32()
	VBROADCASTSS(near, k.near)
	VBROADCASTSS(far, k.far)
	VMOVD(far, k.limit)
	SHRL(U8(keyShift), k.limit)
	k.boxes(r, o, d, zero)
	k.shear(r, d)
	k.nodes, k.node = GP64(), GP64()
	t := Load(Param("t"), GP64())
	MOVQ(at(t, treeNodes), k.nodes)
	MOVQ(k.nodes, k.node)
	LEAQ(k.absent, k.table)
	LEAQ(at(k.scratch, scratchStack+entrySize), k.top)
	bottom := XMM()
	VPCMPEQD(bottom, bottom, bottom)
	VMOVDQU(bottom, at(k.scratch, scratchStack))
	if k.nearest {
		MOVL(U32(1<<31-1), at(k.scratch, scratchNumber))
	}
	JMP(LabelRef("enter"))
	Label("nothing")
	k.end(0)
}

// load3 loads three float32, one by one: the caller has just stored them so, and a wider load would have to wait until
// they have left the store buffer. The fourth is 0.
func load3(base reg.Register, offset int, to reg.VecVirtual) {
	high := XMM()
	VMOVSS(at(base, offset), to)
	VINSERTPS(U8(0x10), at(base, offset+4), to, to)
	VMOVSS(at(base, offset+8), high)
	VMOVLHPS(high, to, to)
}

// boxes makes what box tests need.
func (k *kernel) boxes(r, o, d, zero reg.Register) {
	Comment("The slack, with the sign of the direction on each axis.")
	reach, s, sign := XMM(), XMM(), XMM()
	VBROADCASTSS(k.magnitude, s)
	VANDPS(s, o, reach)
	t := Load(Param("t"), GP64())
	VBROADCASTSS(at(t, treeReach), s)
	VMAXPS(s, reach, reach)
	VPERMILPS(U8(0x4e), reach, s)
	VMAXPS(s, reach, reach)
	VPERMILPS(U8(0xb1), reach, s)
	VMAXPS(s, reach, reach)
	VBROADCASTSS(k.slack, s)
	VMULPS(s, reach, reach)
	VBROADCASTSS(k.sign, s)
	VANDPS(s, d, sign)
	VORPS(sign, reach, reach)
	nearOrigin, farOrigin, inverse := XMM(), XMM(), XMM()
	VADDPS(reach, o, nearOrigin)
	VSUBPS(reach, o, farOrigin)
	VBROADCASTSS(k.minusOne, s)
	VDIVPS(d, s, inverse)
	VMOVUPS(nearOrigin, at(k.scratch, scratchNearOrigin))
	VMOVUPS(farOrigin, at(k.scratch, scratchFarOrigin))
	VMOVUPS(inverse, at(k.scratch, scratchInverse))
	Comment("Which plane of a box comes first: the high one where the direction is negative.")
	signs := GP32()
	VMOVMSKPS(d, signs)
	for i := range 3 {
		k.nearPlane[i], k.farPlane[i] = GP64(), GP64()
		plane := k.nearPlane[i].As32()
		MOVL(signs, plane)
		SHLL(U8(5-i), plane)
		ANDL(U8(32), plane)
		if i > 0 {
			ORL(U32(64*i), plane)
		}
		MOVL(plane, k.farPlane[i].As32())
		XORL(U8(32), k.farPlane[i].As32())
		k.inverse[i], k.nearOrigin[i], k.farOrigin[i] = YMM(), YMM(), YMM()
		VBROADCASTSS(at(k.scratch, scratchInverse+4*i), k.inverse[i])
	}
	k.origins()
}

// origins loads the registers that block borrows.
func (k *kernel) origins() {
	for i := range 3 {
		VBROADCASTSS(at(k.scratch, scratchNearOrigin+4*i), k.nearOrigin[i])
		VBROADCASTSS(at(k.scratch, scratchFarOrigin+4*i), k.farOrigin[i])
	}
}

// shear makes what triangles need.
func (k *kernel) shear(r, d reg.Register) {
	Comment("The axis along which the ray is fastest, the first of equals, and the two that follow it.")
	most, size := GP32(), GP32()
	axes := [3]reg.GPVirtual{GP64(), GP64(), GP64()}
	x, y, z := axes[0], axes[1], axes[2]
	candidate := GP64()
	XORL(z.As32(), z.As32())
	MOVL(at(r, rayDirection), most)
	ANDL(U32(0x7fffffff), most)
	for i := 1; i < 3; i++ {
		MOVL(U32(i), candidate.As32())
		MOVL(at(r, rayDirection+4*i), size)
		ANDL(U32(0x7fffffff), size)
		CMPL(size, most)
		CMOVLHI(candidate.As32(), z.As32())
		CMOVLHI(size, most)
	}
	null := GP32()
	XORL(null, null)
	LEAL(at(z, 1), x.As32())
	CMPL(x.As32(), U8(3))
	CMOVLEQ(null, x.As32())
	LEAL(at(x, 1), y.As32())
	CMPL(y.As32(), U8(3))
	CMOVLEQ(null, y.As32())
	speed, s := XMM(), XMM()
	VMOVSS(Mem{Base: r, Disp: rayDirection, Index: z, Scale: 4}, speed)
	for i, axis := range axes {
		if i < 2 {
			VMOVSS(Mem{Base: r, Disp: rayDirection, Index: axis, Scale: 4}, s)
			VDIVSS(speed, s, s)
		} else {
			VMOVSS(k.minusOne, s)
			VDIVSS(speed, s, s)
		}
		VMOVSS(s, at(k.scratch, scratchShear+4*i))
		VMOVSS(Mem{Base: r, Index: axis, Scale: 4}, s)
		VMOVSS(s, at(k.scratch, scratchOrigin+4*i))
		SHLL(U8(5), axis.As32())
		MOVL(axis.As32(), at(k.scratch, scratchAxes+4*i))
	}
}
