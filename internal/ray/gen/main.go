// Command gen writes the AVX2 kernels of package ray. It is a module of its own, so that nobody needs its dependency but
// who changes the kernels: go generate in internal/ray runs it.
package main

import (
	. "github.com/mmcloughlin/avo/build"
	"github.com/mmcloughlin/avo/ir"
	. "github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// Byte offsets into the types of package ray. A test there checks them.
const (
	treeNodes     = 0
	treeBlocks    = 24
	treeTriangles = 48
	treeReach     = 72

	rayDirection = 12
	rayNear      = 24
	rayFar       = 28

	hitTriangle = 12

	scratchNearOrigin = 0
	scratchSlack      = 12
	scratchFarOrigin  = 16
	scratchInverse    = 32
	scratchOrigin     = 48
	scratchShear      = 64
	scratchAxes       = 80
	scratchNumber     = 92
	scratchLanes      = 96
	scratchStack      = 192

	nodeShift    = 8
	nodeChildren = 192

	blockShift   = 7
	blockCorners = 96

	entryNode = 16
	entrySize = 32

	keyShift = 15

	slicesLow   = 0
	slicesScale = 16
	slicesLast  = 32
	binCount    = 32
	binsWeights = 3 * 32 * binCount
	boxWeight   = 28
)

// Predicates of VCMPPS.
const (
	equal          = U8(0x00)
	lessOrEqual    = U8(0x02)
	notEqual       = U8(0x04)
	notLessOrEqual = U8(0x06)
	greaterOrEqual = U8(0x0d)
)

// constants are read-only data.
type constants struct {
	one, minusOne, infinity, slack, doubtShare, doubtLeast, farthest, sign, magnitude Mem // float32
	absent                                                                            Mem // eight lanes of eight 16-bit words: all ones in the lane's own
}

func main() {
	float := func(name string, bits uint32) Mem {
		m := GLOBL(name, RODATA|NOPTR)
		DATA(0, U32(bits))
		return m
	}
	c := constants{
		one: float("one", 0x3f800000), minusOne: float("minusOne", 0xbf800000), infinity: float("infinity", 0x7f800000),
		slack: float("slackShare", 0x37800000), doubtShare: float("doubtShare", 0x35800000), doubtLeast: float("doubtLeast", 0x0d800000),
		farthest: float("farthest", 0x5d800000), sign: float("signBit", 0x80000000), magnitude: float("magnitudeBits", 0x7fffffff),
		absent: GLOBL("absentLane", RODATA|NOPTR),
	}
	for lane := range 8 {
		for word := range 8 {
			v := uint16(0)
			if word == lane {
				v = 0xffff
			}
			DATA(16*lane+2*word, U16(v))
		}
	}
	(&kernel{constants: c, nearest: true}).generate()
	(&kernel{constants: c}).generate()
	fill()
	partition()
	areas("areasAVX2", "areasAVX2 works out the areas of the first box, the first two and so on.", false)
	areas("areasBackAVX2", "areasBackAVX2 works out the areas of all boxes, all but the first and so on.", true)
	Generate()
}

// kernel is one of the two functions being written, and the registers that hold for all of it.
type kernel struct {
	constants
	nearest bool // else any hit will do

	scratch, nodes, node, top, table, limit reg.GPVirtual
	nearPlane, farPlane                     [3]reg.GPVirtual
	nearOrigin, farOrigin, inverse          [3]reg.VecVirtual
	near, far                               reg.VecVirtual
}

func (k *kernel) generate() {
	if k.nearest {
		TEXT("nearestAVX2", NOSPLIT, "func(t *byte, r *byte, h *byte, s *byte) bool")
		Doc("nearestAVX2 finds the nearest hit.")
	} else {
		TEXT("occludedAVX2", NOSPLIT, "func(t *byte, r *byte, s *byte) bool")
		Doc("occludedAVX2 looks for any hit.")
	}
	k.prepare()
	k.enter()
	k.block()
	k.pop()
	Label("done")
	if k.nearest {
		CMPL(at(k.scratch, scratchNumber), U32(1<<31-1))
		JNE(LabelRef("hit"))
	}
	k.end(0)
	Label("hit")
	k.end(1)
}

func (k *kernel) end(result uint64) {
	r := GP8()
	MOVB(U8(result), r)
	VZEROUPPER()
	Store(r, ReturnIndex(0))
	RET()
}

// target begins a jump target of the inner loops, at a multiple of 64 bytes: else their speed is a matter of luck.
func target(label string) {
	Instruction(&ir.Instruction{Opcode: "PCALIGN", Operands: []Op{U8(64)}})
	Label(label)
}

func at(base reg.Register, offset int) Mem { return Mem{Base: base, Disp: offset} }

// index is the address base + register.
func index(base, offset reg.Register) Mem { return Mem{Base: base, Index: offset, Scale: 1} }
