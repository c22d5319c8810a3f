package ray

import (
	"unsafe"

	"golang.org/x/sys/unix"
)

// array returns an array of n. Where it is large it asks for large pages: a walk through a tree of many megabytes looks up an
// address of its own at nearly every step, which costs as much as fetching what is there. Nothing but speed depends on
// whether they are given.
func array[T any](n int) []T {
	a := make([]T, n)
	const page = 2 << 20
	size := n * int(unsafe.Sizeof(*new(T)))
	if size < 2*page {
		return a
	}
	all := unsafe.Slice((*byte)(unsafe.Pointer(&a[0])), size)
	skip := -int(uintptr(unsafe.Pointer(&a[0]))) & (page - 1)
	_ = unix.Madvise(all[skip:skip+(size-skip)&^(page-1)], unix.MADV_HUGEPAGE)
	return a
}
