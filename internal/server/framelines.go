package server

import (
	"fmt"
	"math"
)

// FrameLine is what a format shows of the picture: a rectangle in its middle, as large as fits, in shares of the picture's width and
// height from the top left.
type FrameLine struct {
	Name   string  `json:"name"`
	Left   float64 `json:"left"`
	Top    float64 `json:"top"`
	Width  float64 `json:"width"`
	Height float64 `json:"height"`
}

// formats are the aspect ratios that are framed for (common practice, no source).
var formats = [][2]float64{{2.39, 1}, {2, 1}, {1.85, 1}, {16, 9}, {1.66, 1}, {4, 3}, {1, 1}, {9, 16}}

// linesOf returns the frame lines of a picture, but for a format that is its own.
func linesOf(width, height int) []FrameLine {
	all := []FrameLine{}
	for _, f := range formats {
		share := f[0] / f[1] * float64(height) / float64(width) // of the picture's own ratio
		if math.Abs(share-1) < 0.01 {
			continue
		}
		w, h := math.Min(1, share), math.Min(1, 1/share)
		all = append(all, FrameLine{fmt.Sprintf("%g:%g", f[0], f[1]), (1 - w) / 2, (1 - h) / 2, w, h})
	}
	return all
}
