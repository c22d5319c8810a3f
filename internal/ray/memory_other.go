//go:build !linux

package ray

// array returns an array of n.
func array[T any](n int) []T { return make([]T, n) }
