package server

import (
	"gloam/internal/geometry"
)

// Sides are the set-up's two sections.
type Sides struct {
	Far  []SideDrawn `json:"far" doc:"looking along +y: x to the right"`
	Left []SideDrawn `json:"left" doc:"looking along −x: y to the right"`
}

// SideDrawn is a thing in section: to the right and up, in metres.
type SideDrawn struct {
	Name    string     `json:"name"`
	Kind    string     `json:"kind"`
	At      Spot       `json:"at"`
	Depth   [2]float64 `json:"depth" doc:"how far along y it reaches, or along x"`
	Outline []Spot     `json:"outline" doc:"empty for a lamp, a point and the camera"`
	Edges   []Spot     `json:"edges" doc:"ends of its beam's or its field's edges"`
}

// side is a way to look in section.
type side struct{ view, right geometry.Vector }

func (s *side) spot(v geometry.Vector) Spot { return Spot{v.Dot(s.right), v.Z} }

// depth is the coordinate across the section.
func (s *side) depth(v geometry.Vector) float64 {
	if s.right.X == 1 {
		return v.Y
	}
	return v.X
}

func (d *drawer) sides() {
	d.out.Sides.Far = d.side(&side{geometry.Vector{Y: 1}, geometry.Vector{X: 1}})
	d.out.Sides.Left = d.side(&side{geometry.Vector{X: -1}, geometry.Vector{Y: 1}})
}

// side draws every handle's thing in section.
func (d *drawer) side(s *side) []SideDrawn {
	drawn := []SideDrawn{}
	for _, h := range d.out.Handles {
		at := geometry.Vector{X: h.At[0], Y: h.At[1], Z: h.At[2]}
		if h.Kind == "walk" || h.Kind == "room" {
			continue
		}
		t := SideDrawn{h.Name, h.Kind, s.spot(at), [2]float64{s.depth(at), s.depth(at)}, []Spot{}, d.sideEdges(h, s)}
		for _, surface := range surfacesOf(h) {
			d.corners(surface, func(v geometry.Vector) {
				t.Outline = append(t.Outline, s.spot(v))
				t.Depth[0], t.Depth[1] = min(t.Depth[0], s.depth(v)), max(t.Depth[1], s.depth(v))
			})
		}
		if t.Outline = hull(t.Outline); len(t.Outline) == 0 {
			t.Outline = []Spot{}
		}
		drawn = append(drawn, t)
	}
	return drawn
}

// surfacesOf are what a thing was built of.
func surfacesOf(h *Handle) []string {
	switch h.Kind {
	case "person":
		return []string{h.Name, h.Name + " clothes"}
	case "object", "cloth", "opening":
		return []string{h.Name}
	}
	return nil
}

// sideEdges are the ends of a lamp's beam or of the camera's field, in section.
func (d *drawer) sideEdges(h *Handle, s *side) []Spot {
	ends := []Spot{}
	if h.Kind == "camera" {
		for _, c := range [][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
			ends = append(ends, s.spot(seen(d.setup.View, c[0], c[1])))
		}
		return ends
	}
	if b, ok := d.beams[h.Name]; ok {
		for _, v := range b.ends(s.view) {
			ends = append(ends, s.spot(v))
		}
	}
	return ends
}
