package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// The inner loops of building, as the plain ones in package ray. A box is one register: its low corner and the high one with
// its sign changed, so that a single minimum adds one box to another.

// fill sorts boxes into bins along each axis.
func fill() {
	TEXT("fillAVX2", NOSPLIT, "func(prims *byte, n int, s *byte, bins *byte)")
	Doc("fillAVX2 sorts prims into bins along each axis.")
	prim, n, s, bins := Load(Param("prims"), GP64()), Load(Param("n"), GP64()), Load(Param("s"), GP64()), Load(Param("bins"), GP64())
	low, scale, last, zero := XMM(), XMM(), XMM(), XMM()
	VMOVUPS(at(s, slicesLow), low)
	VMOVUPS(at(s, slicesScale), scale)
	VMOVDQU(at(s, slicesLast), last)
	VPXOR(zero, zero, zero)
	Label("fill")
	b, at3 := YMM(), XMM()
	VMOVUPS(at(prim, 0), b)
	middle(prim, b, zero, at3)
	VSUBPS(low, at3, at3)
	VMULPS(scale, at3, at3)
	VCVTTPS2DQ(at3, at3)
	VPMINSD(last, at3, at3)
	VPMAXSD(zero, at3, at3)
	weight := GP32()
	MOVL(at(prim, boxWeight), weight)
	for k := range 3 {
		i, sum := GP64(), YMM()
		VPEXTRD(U8(k), at3, i.As32())
		ADDL(weight, Mem{Base: bins, Disp: binsWeights + 4*binCount*k, Index: i, Scale: 4})
		SHLL(U8(5), i.As32())
		here := Mem{Base: bins, Disp: 32 * binCount * k, Index: i, Scale: 1}
		VMINPS(here, b, sum)
		VMOVUPS(sum, here)
	}
	ADDQ(U8(32), prim)
	DECQ(n)
	JNZ(LabelRef("fill"))
	VZEROUPPER()
	RET()
}

// middle works out the sum of the corners of a box; the fourth lane is 0.
func middle(prim reg.Register, b reg.VecVirtual, zero, to reg.VecVirtual) {
	VSUBPS(at(prim, 16), b.AsX(), to)
	VBLENDPS(U8(8), zero, to, to)
}

// partition moves the boxes of bins below a first one to the front.
func partition() {
	TEXT("partitionAVX2", NOSPLIT, "func(prims *byte, n int, low float32, scale float32, axis int32, first int32, sides *byte) int")
	Doc("partitionAVX2 moves the prims of bins below first to the front and returns how many they are.")
	prim, n, sides := Load(Param("prims"), GP64()), Load(Param("n"), GP64()), Load(Param("sides"), GP64())
	low, scale, axis, first, zero, infinite := XMM(), XMM(), XMM(), XMM(), XMM(), XMM()
	for _, p := range []struct {
		name string
		to   reg.VecVirtual
	}{{"low", low}, {"scale", scale}, {"axis", axis}, {"first", first}} {
		a, err := Param(p.name).Resolve()
		if err != nil {
			panic("gen: partition has no such parameter")
		}
		VBROADCASTSS(a.Addr, p.to)
	}
	VPXOR(zero, zero, zero)
	VMOVUPS(at(sides, 0), infinite)
	var side [2][2]reg.VecVirtual
	for i := range side {
		for j := range side[i] {
			side[i][j] = XMM()
			VMOVAPS(infinite, side[i][j])
		}
	}
	end := GP64()
	MOVQ(prim, end)
	Label("part")
	b, other, at3, place, left := YMM(), YMM(), XMM(), XMM(), XMM()
	VMOVUPS(at(prim, 0), b)
	VMOVUPS(at(end, 0), other)
	middle(prim, b, zero, at3)
	VPERMILPS(axis, at3, place)
	VSUBPS(low, place, place)
	VMULPS(scale, place, place)
	VCVTTPS2DQ(place, place)
	VPCMPGTD(place, first, left)
	VMOVUPS(other, at(prim, 0))
	VMOVUPS(b, at(end, 0))
	taken := GP64()
	VMOVMSKPS(left, taken.As32())
	ANDL(U8(1), taken.As32())
	SHLL(U8(5), taken.As32())
	ADDQ(taken, end)
	for j := range 2 {
		if j == 1 {
			VSUBPS(at3, zero, at3)
		}
		s := XMM()
		VBLENDVPS(left, at3, infinite, s)
		VMINPS(s, side[0][j], side[0][j])
		VBLENDVPS(left, infinite, at3, s)
		VMINPS(s, side[1][j], side[1][j])
	}
	ADDQ(U8(32), prim)
	DECQ(n)
	JNZ(LabelRef("part"))
	for i := range side {
		for j := range side[i] {
			VMOVUPS(side[i][j], at(sides, 32*i+16*j))
		}
	}
	begin := Load(Param("prims"), GP64())
	SUBQ(begin, end)
	SHRQ(U8(5), end)
	VZEROUPPER()
	Store(end, ReturnIndex(0))
	RET()
}

// areas works out half the surfaces of growing boxes.
func areas(name, doc string, back bool) {
	TEXT(name, NOSPLIT, "func(boxes *byte, n int, areas *float32)")
	Doc(doc)
	box, n, out := Load(Param("boxes"), GP64()), Load(Param("n"), GP64()), Load(Param("areas"), GP64())
	step := 1
	if back {
		step = -1
		last := GP64()
		LEAQ(at(n, -1), last)
		LEAQ(Mem{Base: out, Index: last, Scale: 4}, out)
		SHLQ(U8(5), last)
		ADDQ(last, box)
	}
	all, zero := YMM(), XMM()
	VMOVUPS(at(box, 0), all)
	VXORPS(zero, zero, zero)
	Label("area")
	VMINPS(at(box, 0), all, all)
	d, turned := XMM(), XMM()
	VEXTRACTF128(U8(1), all, d)
	VADDPS(all.AsX(), d, d)
	VBLENDPS(U8(8), zero, d, d)
	VPERMILPS(U8(0x09), d, turned)
	VMULPS(d, turned, d)
	s, sum := XMM(), XMM()
	VPERMILPS(U8(1), d, s)
	VADDSS(s, d, sum)
	VPERMILPS(U8(2), d, s)
	VADDSS(s, sum, sum)
	VMOVSS(sum, at(out, 0))
	ADDQ(I8(32*step), box)
	ADDQ(I8(4*step), out)
	DECQ(n)
	JNZ(LabelRef("area"))
	VZEROUPPER()
	RET()
}
