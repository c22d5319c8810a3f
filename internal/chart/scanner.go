package chart

import (
	"image"
	"image/color"
	"image/draw"

	"github.com/srwiley/rasterx"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// scanner fills outlines for rasterx, by the non-zero rule. Its own scanner paints the whole picture for every outline; this one
// paints what the outline covers.
type scanner struct {
	out    *image.RGBA
	source image.Image
	edges  []edge
	bounds fixed.Rectangle26_6
	area   vector.Rasterizer
}

// edge is a step of an outline: a new part begins at to, or a line goes there.
type edge struct {
	to     fixed.Point26_6
	begins bool
}

var _ rasterx.Scanner = (*scanner)(nil)

// Start begins a part of the outline.
func (s *scanner) Start(a fixed.Point26_6) { s.add(edge{a, true}) }

// Line goes on to b.
func (s *scanner) Line(b fixed.Point26_6) { s.add(edge{b, false}) }

func (s *scanner) add(e edge) {
	at := fixed.Rectangle26_6{Min: e.to, Max: e.to.Add(fixed.Point26_6{X: 1, Y: 1})}
	if len(s.edges) == 0 {
		s.bounds = at
	}
	s.bounds = s.bounds.Union(at)
	s.edges = append(s.edges, e)
}

// Draw fills the outline.
func (s *scanner) Draw() {
	b := image.Rect(s.bounds.Min.X.Floor(), s.bounds.Min.Y.Floor(), s.bounds.Max.X.Ceil(), s.bounds.Max.Y.Ceil()).Intersect(s.out.Bounds())
	if len(s.edges) == 0 || b.Empty() {
		return
	}
	s.area.Reset(b.Dx(), b.Dy())
	s.area.DrawOp = draw.Over
	for _, e := range s.edges {
		x, y := float32(e.to.X)/64-float32(b.Min.X), float32(e.to.Y)/64-float32(b.Min.Y)
		if e.begins {
			s.area.MoveTo(x, y)
		} else {
			s.area.LineTo(x, y)
		}
	}
	s.area.Draw(s.out, b, s.source, image.Point{})
}

// Clear forgets the outline.
func (s *scanner) Clear() { s.edges = s.edges[:0] }

// SetColor sets the colour to fill with, one of the picture's own.
func (s *scanner) SetColor(c any) { s.source = image.NewUniform(c.(color.Color)) }

// GetPathExtent returns the area the outline covers.
func (s *scanner) GetPathExtent() fixed.Rectangle26_6 { return s.bounds }

// SetBounds does nothing: the bounds are the picture's.
func (s *scanner) SetBounds(int, int) {}

// SetWinding does nothing: there is one rule.
func (s *scanner) SetWinding(bool) {}

// SetClip does nothing: drawings are clipped as they are made.
func (s *scanner) SetClip(image.Rectangle) {}
