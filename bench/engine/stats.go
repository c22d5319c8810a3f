package main

import (
	"math"
	"slices"
)

func sqrt(x float64) float64 { return math.Sqrt(x) }

// middle is the median.
func middle(x [repeats]float64) float64 {
	slices.Sort(x[:])
	return x[repeats/2]
}
