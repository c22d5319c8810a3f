package server

import (
	"math"

	"gloam/internal/document"
	"gloam/internal/picture"
	"gloam/internal/pipeline"
	"gloam/internal/plan"
	"gloam/internal/spectrum"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

// PictureEvent is what the camera sees, layer by layer. A page adds up, over layers and bands, halves times weights times level,
// and has linear sRGB as Tables takes it in, and the eye's luminance in times grey.
type PictureEvent struct {
	Revision int               `json:"revision"`
	At       string            `json:"at" doc:"hour that was asked for; none for the plan's own"`
	Picture  string            `json:"picture" doc:"names it in the calls that ask about it"`
	Width    int               `json:"width"`
	Height   int               `json:"height"`
	Samples  int               `json:"samples" doc:"paths a pixel of what has fewest; more come until it is final"`
	Final    bool              `json:"final"`
	Layers   []LayerEvent      `json:"layers"`
	Dials    []DialEvent       `json:"dials"`
	Key      []BandEvent       `json:"key" doc:"of the map of stops, from dark to light"`
	Lines    []FrameLine       `json:"frame_lines"`
	InShot   []pipeline.InShot `json:"in_shot" doc:"gear that the camera sees, or sees mirrored"`
}

// LayerEvent is one layer. Layers of one version have the same halves.
type LayerEvent struct {
	Name    string           `json:"name"`
	Version string           `json:"version" doc:"of its halves, by which they are fetched; no others ever bear it"`
	Weights [4]spectrum.Band `json:"weights" doc:"of a half by band, at level 1: to red, green, blue, and luminance in times grey"`
	Level   float64          `json:"level"`
	Dial    int              `json:"dial" doc:"into dials; -1 where the level is no lamp's"`
}

// DialEvent is a lamp's level as it is dimmed.
type DialEvent struct {
	Path   document.Path `json:"path" doc:"of the dim in the plan"`
	Levels []float64     `json:"levels" doc:"of its layers, at 0 to 100 % by whole per cent"`
}

// BandEvent is a tone of the map of stops.
type BandEvent struct {
	Label   string          `json:"label"`
	From    float64         `json:"from" doc:"where it begins, in times grey"`
	Ground  [3]uint8        `json:"ground"`
	Contour [3]uint8        `json:"contour" doc:"of the line where it meets another"`
	Pattern picture.Pattern `json:"pattern"`
	Ink     [3]uint8        `json:"ink" doc:"of its pattern"`
	White   bool            `json:"white" doc:"letters on it are white; else black"`
}

// layers tells the layers under the weights of level 1, and their levels.
func (h *hung) layers(e *PictureEvent) {
	shown, seen := h.AtFull()
	grey := picture.OverGrey(h.Setup.Camera)
	for i := range h.Image.Layers {
		l := &h.Image.Layers[i]
		emitter, scale := h.Setup.Scene.EmitterOf(l.Column), scaleOf(l)
		layer := LayerEvent{Name: l.Name, Version: h.versions[i], Level: h.Setup.Dials[emitter].Level, Dial: -1, Weights: [4]spectrum.Band{
			shown.X[l.Column].Scale(scale), shown.Y[l.Column].Scale(scale), shown.Z[l.Column].Scale(scale), seen.Y[l.Column].Scale(scale * grey)}}
		for d := range h.Setup.Lamps {
			if h.Setup.Lamps[d].Emitter == emitter {
				layer.Dial = d
			}
		}
		e.Layers = append(e.Layers, layer)
	}
}

// dialsOf returns the lamps' levels.
func dialsOf(p *pipeline.Picture, view *plan.View) []DialEvent {
	d := &drawer{view: view}
	all := []DialEvent{}
	for i := range p.Setup.Lamps {
		use := &p.Setup.Lamps[i]
		things := document.Path("practicals")
		if _, ok := view.Document.Lamps.Get(use.Name); ok {
			things = "lamps"
		}
		dial := DialEvent{Path: d.field("dim", things.Join(use.Name).Join("dim"), "").Path}
		for percent := range 101 {
			dial.Levels = append(dial.Levels, use.Level(unit.Fraction(percent)/100))
		}
		all = append(all, dial)
	}
	return all
}

// keyOf is the key of the map of stops.
func keyOf() []BandEvent {
	all := []BandEvent{}
	for _, b := range picture.Bands(noiseFloor, clip) {
		all = append(all, BandEvent{b.Label, b.From.Factor(), b.Ground, b.Contour, b.Pattern, b.Ink, b.White})
	}
	return all
}

// brightest is what a layer's brightest pixel becomes as a half: 28 stops above the least.
const brightest = 1 << 14

func scaleOf(l *transport.ImageLayer) float64 {
	most := float32(0)
	for i := range l.Pixels {
		for _, x := range l.Pixels[i] {
			most = max(most, x)
		}
	}
	if !(most > 0) || math.IsInf(float64(most), 0) {
		return 1
	}
	return float64(most) / brightest
}

// halves returns a layer as textures of four halves a pixel, little-endian, rows from the top: bands 1 to 4, then 5 to 8.
func halves(l *transport.ImageLayer) []byte {
	const texture = 4
	scale := float32(1 / scaleOf(l))
	out := make([]byte, 0, len(l.Pixels)*spectrum.Bands*2)
	for first := 0; first < spectrum.Bands; first += texture {
		for i := range l.Pixels {
			for _, x := range l.Pixels[i][first : first+texture] {
				h := halfOf(x * scale)
				out = append(out, byte(h), byte(h>>8))
			}
		}
	}
	return out
}
