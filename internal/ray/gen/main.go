// Command gen writes the AVX2 kernels of package ray. It is a module of its own, so that nobody needs its dependency but
// who changes the kernels: go generate in internal/ray runs it.
package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// Byte offsets into the types of package ray. A test there checks them.
const (
	queryNearOrigin = 0
	queryFarOrigin  = 12
	queryInverse    = 24
	queryNear       = 36
	queryFar        = 40
	queryNearPlane  = 44
	queryAxes       = 56
	queryOrigin     = 68
	queryShear      = 80
	queryHit        = 92 // T, U, V, triangle
	queryLanes      = 108

	nodeShift    = 8
	nodeChildren = 192

	blockShift   = 7
	blockCorners = 96

	entryNode = 16
	entrySize = 32

	keyShift = 15
)

// Predicates of VCMPPS.
const (
	equal          = U8(0x00)
	lessOrEqual    = U8(0x02)
	notLessOrEqual = U8(0x06)
	greaterOrEqual = U8(0x0d)
)

func main() {
	absent := GLOBL("absentLane", RODATA|NOPTR)
	for lane := range 8 {
		for word := range 8 {
			v := uint16(0)
			if word == lane {
				v = 0xffff
			}
			DATA(16*lane+2*word, U16(v))
		}
	}
	infinity := GLOBL("infinity", RODATA|NOPTR)
	DATA(0, U32(0x7f800000))
	one := GLOBL("one", RODATA|NOPTR)
	DATA(0, U32(0x3f800000))
	for _, k := range []*kernel{
		{name: "nearestAVX2", doc: "nearestAVX2 walks the tree for the nearest hit into the query.", nearest: true},
		{name: "occludedAVX2", doc: "occludedAVX2 walks the tree for any hit."},
	} {
		k.absent, k.infinity, k.one = absent, infinity, one
		k.generate()
	}
	Generate()
}

// kernel is one of the two functions being written, and the registers that hold for all of it.
type kernel struct {
	name, doc             string
	nearest               bool
	absent, infinity, one Mem

	nodes, node, top, table, limit reg.GPVirtual
	nearPlane, farPlane            [3]reg.GPVirtual
	nearOrigin, farOrigin, inverse [3]reg.VecVirtual
	near, far                      reg.VecVirtual
}

func (k *kernel) generate() {
	if k.nearest {
		TEXT(k.name, NOSPLIT, "func(q *byte, nodes *byte, blocks *byte, numbers *byte, stack *byte)")
	} else {
		TEXT(k.name, NOSPLIT, "func(q *byte, nodes *byte, blocks *byte, stack *byte) bool")
	}
	Doc(k.doc)
	k.prepare()
	k.enter()
	k.block()
	k.pop()
	Label("done")
	VZEROUPPER()
	if !k.nearest {
		k.result(0)
	}
	RET()
	if !k.nearest {
		Label("blocked")
		VZEROUPPER()
		k.result(1)
		RET()
	}
}

func (k *kernel) result(v uint64) {
	r := GP8()
	MOVB(U8(v), r)
	Store(r, ReturnIndex(0))
}

// query loads the pointer to the query.
func query() reg.Register { return Load(Param("q"), GP64()) }

func at(base reg.Register, offset int) Mem { return Mem{Base: base, Disp: offset} }

// prepare loads what stays in registers.
func (k *kernel) prepare() {
	k.nodes, k.node, k.top, k.table, k.limit = GP64(), GP64(), GP64(), GP64(), GP32()
	q := query()
	Load(Param("nodes"), k.nodes)
	Load(Param("stack"), k.top)
	LEAQ(k.absent, k.table)
	MOVL(at(q, queryFar), k.limit)
	SHRL(U8(keyShift), k.limit)
	for i := range 3 {
		k.nearPlane[i], k.farPlane[i] = GP64(), GP64()
		MOVL(at(q, queryNearPlane+4*i), k.nearPlane[i].As32())
		SHLL(U8(5), k.nearPlane[i].As32())
		MOVL(k.nearPlane[i].As32(), k.farPlane[i].As32())
		XORL(U8(32), k.farPlane[i].As32())
		k.inverse[i] = YMM()
		VBROADCASTSS(at(q, queryInverse+4*i), k.inverse[i])
	}
	k.near, k.far = YMM(), YMM()
	VBROADCASTSS(at(q, queryNear), k.near)
	VBROADCASTSS(at(q, queryFar), k.far)
	for i := range 3 {
		k.nearOrigin[i], k.farOrigin[i] = YMM(), YMM()
	}
	k.origins(q)
	MOVQ(k.nodes, k.node)
}

// origins loads the registers that block borrows.
func (k *kernel) origins(q reg.Register) {
	for i := range 3 {
		VBROADCASTSS(at(q, queryNearOrigin+4*i), k.nearOrigin[i])
		VBROADCASTSS(at(q, queryFarOrigin+4*i), k.farOrigin[i])
	}
}

// enter tests the boxes of a node, goes to the nearest child that is met and leaves the others on the stack.
func (k *kernel) enter() {
	Label("enter")
	Comment("When the ray enters and leaves each box. MAXPS and MINPS give their second operand for a NaN: nothing is shut out.")
	enter, leave, t := YMM(), YMM(), YMM()
	for i := range 3 {
		VSUBPS(Mem{Base: k.node, Index: k.nearPlane[i], Scale: 1}, k.nearOrigin[i], t)
		VMULPS(k.inverse[i], t, t)
		if i == 0 {
			VMAXPS(k.near, t, enter)
		} else {
			VMAXPS(enter, t, enter)
		}
		t2 := YMM()
		VSUBPS(Mem{Base: k.node, Index: k.farPlane[i], Scale: 1}, k.farOrigin[i], t2)
		VMULPS(k.inverse[i], t2, t2)
		if i == 0 {
			VMINPS(k.far, t2, leave)
		} else {
			VMINPS(leave, t2, leave)
		}
		t = YMM()
	}
	Comment("Keys: the time of entry in 16 bits, all ones for a miss.")
	missed, keys, high := leave, YMM(), YMM()
	VCMPPS(notLessOrEqual, leave, enter, missed)
	met := GP32()
	VMOVMSKPS(missed, met)
	VORPS(missed, enter, keys)
	VPSRLD(U8(keyShift), keys, keys)
	VEXTRACTI128(U8(1), keys, high.AsX())
	VPACKUSDW(high.AsX(), keys.AsX(), keys.AsX())
	XORL(U32(0xff), met)
	JZ(LabelRef("pop"))
	nearest, lane := XMM(), GP64()
	VPHMINPOSUW(keys.AsX(), nearest)
	VMOVD(nearest, lane.As32())
	SHRL(U8(16), lane.As32())
	next := GP64()
	MOVL(Mem{Base: k.node, Disp: nodeChildren, Index: lane, Scale: 4}, next.As32())
	Comment("Leave the others. The entry is written even without any, but then the stack does not grow.")
	SHLL(U8(4), lane.As32())
	VPOR(Mem{Base: k.table, Index: lane, Scale: 1}, keys.AsX(), keys.AsX())
	VMOVDQU(keys.AsX(), at(k.top, 0))
	MOVQ(k.node, at(k.top, entryNode))
	more := GP64()
	LEAL(Mem{Base: met, Disp: -1}, more.As32())
	ANDL(met, more.As32())
	NEGL(more.As32())
	SBBL(more.As32(), more.As32())
	ANDL(U8(entrySize), more.As32())
	ADDQ(more, k.top)
	k.dispatch(next)
}

// dispatch goes to a child: on to block with its place in next, or to enter.
func (k *kernel) dispatch(next reg.GPVirtual) {
	TESTL(next.As32(), next.As32())
	MOVQ(next, k.node)
	JS(LabelRef("block"))
	SHLQ(U8(nodeShift), k.node)
	ADDQ(k.nodes, k.node)
	JMP(LabelRef("enter"))
}

// pop goes to the nearest child left on the stack that the ray enters in time.
func (k *kernel) pop() {
	Label("pop")
	stack := GP64()
	Load(Param("stack"), stack)
	CMPQ(k.top, stack)
	JEQ(LabelRef("done"))
	keys, nearest, lane, key := XMM(), XMM(), GP64(), GP32()
	VMOVDQU(at(k.top, -entrySize), keys)
	VPHMINPOSUW(keys, nearest)
	VMOVD(nearest, lane.As32())
	MOVWLZX(lane.As16(), key)
	CMPL(key, k.limit)
	JLS(LabelRef("take"))
	SUBQ(U8(entrySize), k.top)
	JMP(LabelRef("pop"))
	Label("take")
	SHRL(U8(16), lane.As32())
	MOVQ(at(k.top, entryNode-entrySize), k.node)
	next := GP64()
	MOVL(Mem{Base: k.node, Disp: nodeChildren, Index: lane, Scale: 4}, next.As32())
	SHLL(U8(4), lane.As32())
	VPOR(Mem{Base: k.table, Index: lane, Scale: 1}, keys, keys)
	VMOVDQU(keys, at(k.top, -entrySize))
	k.dispatch(next)
}

// block intersects the triangles of the block whose place stands in node.
func (k *kernel) block() {
	Label("block")
	Comment("Shear the corner positions.")
	place, q := GP64(), query()
	MOVL(k.node.As32(), place.As32())
	ANDL(U32(0x7fffffff), place.As32())
	SHLQ(U8(blockShift), place)
	block := GP64()
	Load(Param("blocks"), block)
	ADDQ(place, block)
	var p [3]reg.VecVirtual
	axis := GP64()
	for _, i := range []int{2, 0, 1} {
		p[i] = YMM()
		MOVL(at(q, queryAxes+4*i), axis.As32())
		SHLL(U8(5), axis.As32())
		VBROADCASTSS(at(q, queryOrigin+4*i), p[i])
		VSUBPS(Mem{Base: block, Index: axis, Scale: 1}, p[i], p[i])
	}
	for i := range 2 {
		s := YMM()
		VBROADCASTSS(at(q, queryShear+4*i), s)
		VMULPS(p[2], s, s)
		VSUBPS(s, p[i], p[i])
	}
	Comment("Lay them out by triangle.")
	var corner [3]reg.VecVirtual
	var xy [3][2]reg.VecVirtual
	for c := range 3 {
		corner[c] = YMM()
		if c == 0 {
			VPMOVZXWD(at(block, blockCorners), corner[c])
		} else {
			VPSRLD(U8(3), corner[c-1], corner[c])
		}
		for i := range 2 {
			xy[c][i] = YMM()
			VPERMPS(p[i], corner[c], xy[c][i])
		}
	}
	Comment("Edge functions, each a difference of two rounded products.")
	var edge [3]reg.VecVirtual
	for i, pair := range [3][2]int{{2, 1}, {0, 2}, {1, 0}} {
		s := YMM()
		edge[i] = YMM()
		VMULPS(xy[pair[1]][1], xy[pair[0]][0], edge[i])
		VMULPS(xy[pair[1]][0], xy[pair[0]][1], s)
		VSUBPS(s, edge[i], edge[i])
	}
	Comment("Inside: none is negative, or none positive.")
	low, high, zero := YMM(), YMM(), YMM()
	VMINPS(edge[1], edge[0], low)
	VMAXPS(edge[1], edge[0], high)
	VMINPS(edge[2], low, low)
	VMAXPS(edge[2], high, high)
	VXORPS(zero, zero, zero)
	VCMPPS(greaterOrEqual, zero, low, low)
	VCMPPS(lessOrEqual, zero, high, high)
	inside, some := YMM(), GP32()
	VORPS(high, low, inside)
	VMOVMSKPS(inside, some)
	TESTL(some, some)
	JNZ(LabelRef("inside"))
	k.origins(q)
	JMP(LabelRef("pop"))
	Label("inside")
	k.inside(q, block, place, edge, inside)
}

// inside looks at how far along the ray the triangles are whose edges it passes within.
func (k *kernel) inside(q, block reg.Register, place reg.GPVirtual, edge [3]reg.VecVirtual, inside reg.VecVirtual) {
	Comment("Weights of the corners.")
	inverse, sum := YMM(), YMM()
	VADDPS(edge[1], edge[0], sum)
	VADDPS(edge[2], sum, sum)
	VBROADCASTSS(k.one, inverse)
	VDIVPS(sum, inverse, inverse)
	for i := range 3 {
		VMULPS(inverse, edge[i], edge[i])
	}
	Comment("Their mean distance.")
	z, axis, t, corner := YMM(), GP64(), YMM(), YMM()
	MOVL(at(q, queryAxes+8), axis.As32())
	SHLL(U8(5), axis.As32())
	VBROADCASTSS(at(q, queryOrigin+8), z)
	VSUBPS(Mem{Base: block, Index: axis, Scale: 1}, z, z)
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
		} else {
			VADDPS(s, t, t)
		}
	}
	s := YMM()
	VBROADCASTSS(at(q, queryShear+8), s)
	VMULPS(s, t, t)
	Comment("Adding 0 makes +0 of −0, whose bits would not order as a limit of the walk.")
	VXORPS(s, s, s)
	VADDPS(s, t, t)
	VCMPPS(greaterOrEqual, k.near, t, s)
	VANDPS(s, inside, inside)
	VCMPPS(lessOrEqual, k.far, t, s)
	VANDPS(s, inside, inside)
	some := GP32()
	VMOVMSKPS(inside, some)
	TESTL(some, some)
	if !k.nearest {
		JNZ(LabelRef("blocked"))
		k.origins(q)
		JMP(LabelRef("pop"))
		return
	}
	JZ(LabelRef("restore"))
	k.improve(q, place, edge, t, inside)
	Label("restore")
	k.origins(q)
	JMP(LabelRef("pop"))
}

// improve takes the nearest of the hits inside, unless the one there is as near and has a lower number.
func (k *kernel) improve(q reg.Register, place reg.GPVirtual, edge [3]reg.VecVirtual, t, inside reg.VecVirtual) {
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
	lane, number := GP64(), GP32()
	VMOVMSKPS(inside, lane.As32())
	BSFL(lane.As32(), lane.As32())
	numbers := Load(Param("numbers"), GP64())
	SHRQ(U8(2), place) // a block has four times the bytes of its numbers
	ADDQ(place, numbers)
	MOVL(Mem{Base: numbers, Index: lane, Scale: 4}, number)
	VUCOMISS(k.far.AsX(), least.AsX())
	JB(LabelRef("nearer"))
	CMPL(number, at(q, queryHit+12))
	JGE(LabelRef("restore"))
	Label("nearer")
	VMOVAPS(least, k.far)
	VMOVD(least.AsX(), k.limit)
	SHRL(U8(keyShift), k.limit)
	MOVL(number, at(q, queryHit+12))
	for i, v := range []reg.VecVirtual{t, edge[1], edge[2]} {
		VMOVUPS(v, at(q, queryLanes+32*i))
		word := GP32()
		MOVL(Mem{Base: q, Disp: queryLanes + 32*i, Index: lane, Scale: 4}, word)
		MOVL(word, at(q, queryHit+4*i))
	}
}
