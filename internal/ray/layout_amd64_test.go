package ray

import (
	"testing"
	"unsafe"
)

// The assembly reads these types by offset; its generator has the same numbers.
func TestLayoutIsWhatTheAssemblyReads(t *testing.T) {
	var tree Tree
	var r Ray
	var h Hit
	var w wideScratch
	for _, c := range []struct {
		what      string
		got, want uintptr
	}{
		{"tree's nodes", unsafe.Offsetof(tree.nodes), 0},
		{"tree's blocks", unsafe.Offsetof(tree.blocks), 24},
		{"tree's triangles", unsafe.Offsetof(tree.triangles), 48},
		{"tree's reach", unsafe.Offsetof(tree.reach), 72},
		{"ray's direction", unsafe.Offsetof(r.Direction), 12},
		{"ray's near", unsafe.Offsetof(r.Near), 24},
		{"ray's far", unsafe.Offsetof(r.Far), 28},
		{"hit's triangle", unsafe.Offsetof(h.Triangle), 12},
		{"near origin", unsafe.Offsetof(w.nearOrigin), 0},
		{"slack", unsafe.Offsetof(w.nearOrigin) + 3*4, 12},
		{"far origin", unsafe.Offsetof(w.farOrigin), 16},
		{"inverse", unsafe.Offsetof(w.inverse), 32},
		{"origin", unsafe.Offsetof(w.origin), 48},
		{"shear", unsafe.Offsetof(w.shear), 64},
		{"axes", unsafe.Offsetof(w.axes), 80},
		{"number", unsafe.Offsetof(w.number), 92},
		{"lanes", unsafe.Offsetof(w.lanes), 96},
		{"stack", unsafe.Offsetof(w.stack), 192},
		{"node", unsafe.Sizeof(node{}), 1 << 8},
		{"node's children", unsafe.Offsetof(node{}.children), 192},
		{"block", unsafe.Sizeof(block{}), 1 << 7},
		{"block's corners", unsafe.Offsetof(block{}.corners), 96},
		{"block's triangle numbers", unsafe.Sizeof([8]int32{}), unsafe.Sizeof(block{}) / 4},
		{"entry", unsafe.Sizeof(entry{}), 32},
		{"entry's node", unsafe.Offsetof(entry{}.node), 16},
		{"scratch of the assembly", unsafe.Offsetof(Scratch{}.wide), 0},
		{"box", unsafe.Sizeof(box{}), 1 << 5},
		{"high corner of a box", unsafe.Offsetof(box{}.negHigh), 16},
		{"slicing of scale", unsafe.Offsetof(slicing{}.scale), 16},
		{"last of slicing", unsafe.Offsetof(slicing{}.last), 32},
		{"weight of a box", unsafe.Offsetof(box{}.weight), 28},
		{"weights of bins", unsafe.Offsetof(bins{}.weights), 3 * 32 * binCount},
		{"bins", binCount, 32},
		{"key shift", keyShift, 15},
	} {
		if c.got != c.want {
			t.Errorf("%s: %d, the assembly has %d", c.what, c.got, c.want)
		}
	}
}
