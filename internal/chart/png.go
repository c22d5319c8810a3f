package chart

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"

	"github.com/srwiley/rasterx"
	"golang.org/x/image/font"
	"golang.org/x/image/math/fixed"

	"gloam/internal/fault"
)

// most is how many pixels a picture may have.
const most = 64 << 20

// PNG writes the drawing as a picture of scale pixels to a unit. A scale that is not above 0, or a picture of more than
// 64 million pixels, is a fault of kind Call; other errors are the writer's.
func (d Drawing) PNG(w io.Writer, scale float64) error {
	width, height := math.Ceil(d.Width*scale), math.Ceil(d.Height*scale)
	if !(scale > 0 && width*height <= most) {
		return fault.Fault{Kind: fault.Call, Text: "the chart has no such size in pixels", Read: fmt.Sprint(scale),
			Allowed: fmt.Sprintf("above 0 to %.1f pixels to a unit", math.Sqrt(most/(d.Width*d.Height)))}
	}
	out := image.NewRGBA(image.Rect(0, 0, int(width), int(height)))
	draw.Draw(out, out.Bounds(), image.NewUniform(d.Ground.rgba()), image.Point{}, draw.Src)
	r := newRaster(out, scale)
	for _, item := range d.Items {
		if item.Text != nil {
			r.text(item.Text)
		} else {
			r.shape(item.Shape)
		}
	}
	return png.Encode(w, out)
}

func (c Colour) rgba() color.RGBA { return color.RGBA{c.R, c.G, c.B, 0xff} }

// raster draws items into an image.
type raster struct {
	out    *image.RGBA
	scale  float64 // pixels to a unit
	dasher *rasterx.Dasher
	faces  map[Text]font.Face // by size and weight alone
}

func newRaster(out *image.RGBA, scale float64) raster {
	size := out.Bounds().Size()
	return raster{out, scale, rasterx.NewDasher(size.X, size.Y, &scanner{out: out}), map[Text]font.Face{}}
}

func (r raster) shape(s *Shape) {
	if s.Fill != nil {
		filler := &r.dasher.Filler
		r.add(filler, s.Path)
		filler.SetColor(s.Fill.rgba())
		filler.Draw()
		filler.Clear()
	}
	if s.Stroke == nil {
		return
	}
	var dashes []float64
	for _, length := range s.Dash {
		dashes = append(dashes, length*r.scale)
	}
	r.dasher.SetStroke(r.length(s.Width), 4<<6, rasterx.ButtCap, nil, nil, rasterx.Round, dashes, 0)
	r.add(r.dasher, s.Path)
	r.dasher.SetColor(s.Stroke.rgba())
	r.dasher.Draw()
	r.dasher.Clear()
}

// add gives a path to what fills or strokes it. A part is ended before the next begins.
func (r raster) add(to rasterx.Adder, p Path) {
	started := false
	for _, step := range p {
		switch step.Op {
		case MoveTo:
			if started {
				to.Stop(false)
			}
			to.Start(r.at(step.To))
			started = true
		case LineTo:
			to.Line(r.at(step.To))
		case CubicTo:
			to.CubeBezier(r.at(step.A), r.at(step.B), r.at(step.To))
		case Close:
			to.Stop(true)
			started = false
		}
	}
	if started {
		to.Stop(false)
	}
}

func (r raster) at(p XY) fixed.Point26_6 { return fixed.Point26_6{X: r.length(p.X), Y: r.length(p.Y)} }

func (r raster) length(x float64) fixed.Int26_6 { return fixed.Int26_6(math.Round(x * r.scale * 64)) }

func (r raster) text(t *Text) {
	key := Text{Size: t.Size, Bold: t.Bold}
	face, ok := r.faces[key]
	if !ok {
		face = newFace(t.Size*r.scale, t.Bold)
		r.faces[key] = face
	}
	d := font.Drawer{Dst: r.out, Src: image.NewUniform(t.Colour.rgba()), Face: face, Dot: r.at(XY{t.X, t.Y})}
	letters := t.Spelled()
	switch t.Align {
	case Middle:
		d.Dot.X -= d.MeasureString(letters) / 2
	case Right:
		d.Dot.X -= d.MeasureString(letters)
	}
	d.DrawString(letters)
}
