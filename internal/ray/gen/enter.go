package main

import (
	. "github.com/mmcloughlin/avo/build"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// enter tests the boxes of a node, goes to the nearest child that is met and leaves the others on the stack.
func (k *kernel) enter() {
	target("enter")
	Comment("When the ray enters and leaves each box. MAXPS and MINPS give their second operand for a NaN, which shuts nothing out.")
	enter, leave := k.near, k.far
	for i := range 3 {
		first, last := YMM(), YMM()
		VSUBPS(index(k.node, k.nearPlane[i]), k.nearOrigin[i], first)
		VSUBPS(index(k.node, k.farPlane[i]), k.farOrigin[i], last)
		VMULPS(k.inverse[i], first, first)
		VMULPS(k.inverse[i], last, last)
		VMAXPS(enter, first, first)
		VMINPS(leave, last, last)
		enter, leave = first, last
	}
	Comment("Keys: the time of entry in 16 bits, all ones for a miss.")
	missed, keys, high, met := YMM(), YMM(), XMM(), GP32()
	VCMPPS(notLessOrEqual, leave, enter, missed)
	VMOVMSKPS(missed, met)
	VORPS(missed, enter, keys)
	VPSRLD(U8(keyShift), keys, keys)
	VEXTRACTI128(U8(1), keys, high)
	VPACKUSDW(high, keys.AsX(), keys.AsX())
	XORL(U32(0xff), met)
	JZ(LabelRef("pop"))
	nearest, lane := XMM(), GP64()
	VPHMINPOSUW(keys.AsX(), nearest)
	VMOVD(nearest, lane.As32())
	SHRL(U8(16), lane.As32())
	next := k.child(lane)
	Comment("Leave the others. The entry is written even where there are none, but then the stack does not grow.")
	MOVQ(k.node, at(k.top, entryNode))
	SHLL(U8(4), lane.As32())
	VPOR(index(k.table, lane), keys.AsX(), keys.AsX())
	VMOVDQU(keys.AsX(), at(k.top, 0))
	more := GP64()
	LEAL(at(met, -1), more.As32())
	ANDL(met, more.As32())
	NEGL(more.As32())
	SBBL(more.As32(), more.As32())
	ANDL(U8(entrySize), more.As32())
	ADDQ(more, k.top)
	k.dispatch(next)
}

// child loads which child of the node stands in a lane.
func (k *kernel) child(lane reg.Register) reg.GPVirtual {
	next := GP64()
	MOVL(Mem{Base: k.node, Disp: nodeChildren, Index: lane, Scale: 4}, next.As32())
	return next
}

// dispatch goes to a child: to block with its place in node, or to enter.
func (k *kernel) dispatch(next reg.GPVirtual) {
	TESTL(next.As32(), next.As32())
	MOVQ(next, k.node)
	JS(LabelRef("block"))
	SHLQ(U8(nodeShift), k.node)
	ADDQ(k.nodes, k.node)
	JMP(LabelRef("enter"))
}

// pop goes to the nearest child left on the stack that the ray enters in time. Under the stack lies an entry without any.
func (k *kernel) pop() {
	target("pop")
	keys, nearest, lane, key := XMM(), XMM(), GP64(), GP32()
	VMOVDQU(at(k.top, -entrySize), keys)
	VPHMINPOSUW(keys, nearest)
	VMOVD(nearest, lane.As32())
	MOVWLZX(lane.As16(), key)
	CMPL(key, k.limit)
	JLS(LabelRef("take"))
	SUBQ(U8(entrySize), k.top)
	LEAQ(at(k.scratch, scratchStack), lane)
	CMPQ(k.top, lane)
	JNE(LabelRef("pop"))
	JMP(LabelRef("done"))
	target("take")
	SHRL(U8(16), lane.As32())
	MOVQ(at(k.top, entryNode-entrySize), k.node)
	next := k.child(lane)
	SHLL(U8(4), lane.As32())
	VPOR(index(k.table, lane), keys, keys)
	VMOVDQU(keys, at(k.top, -entrySize))
	Comment("Drop the entry where no other child is left that is entered in time.")
	VPHMINPOSUW(keys, nearest)
	drop := GP64()
	VMOVD(nearest, drop.As32())
	MOVWLZX(drop.As16(), drop.As32())
	CMPL(k.limit, drop.As32())
	SBBQ(drop, drop)
	ANDQ(U8(entrySize), drop)
	SUBQ(drop, k.top)
	k.dispatch(next)
}
