// Package meter reads layers as a crew would: levels at points, what they are made of, how sure they are.
//
// A level is the sum of every emitter's layer under its dial. Doubt follows the parts: each piece of gear brings its own,
// weighted by how much of the level passes through it, and the sampling brings its standard error. Intervals are 95 %
// half-widths in stops. To first order a share s of a level that is off by x stops moves the level by s·x stops; above
// about 1 stop of doubt that is only a fair sketch, as is the doubt itself.
package meter

import (
	"math"
	"slices"

	"gloam/internal/colour"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

// light is what one receiver gets under the set-up's dials, in lux, or cd/m² at a spot.
type light struct {
	level, stderr float64
	source        []part    // by Setup.Sources
	full          []float64 // by emitter: what it gives at a Dial.Level of 1
	xyz           colour.XYZ
	doubts        sensitivity
}

// part is what one source gives.
type part struct {
	level, direct float64
	xyz           colour.XYZ
}

// sensitivity is how many stops a level moves for each cause of doubt, by its full 95 % half-width.
type sensitivity map[string]float64

// reader holds the weights of a set-up's dials.
type reader struct {
	setup   *scene.Setup
	layers  *transport.Layers
	x, y, z []spectrum.Band
	full    []spectrum.Band    // y with every level at 1
	raw     [3][]spectrum.Band // of the camera's signals
}

func newReader(s *scene.Setup, l *transport.Layers) *reader {
	r := &reader{setup: s, layers: l}
	r.x, r.y, r.z = s.Scene.TristimulusWeights(s.Dials)
	r.raw[0], r.raw[1], r.raw[2] = s.Scene.WeightsSeen(s.Dials, s.Recorder.Camera().Signals)
	full := slices.Clone(s.Dials)
	for i := range full {
		full[i].Level = 1
	}
	r.full = s.Scene.Weights(full)
	return r
}

// signals is what a camera at a receiver would record of all its light, raw.
func (r *reader) signals(receiver int) (rgb [3]float64) {
	for k := range rgb {
		rgb[k] = sum(r.layers.Points[receiver].Response, r.raw[k])
	}
	return rgb
}

// at reads one receiver.
func (r *reader) at(receiver int) light {
	p := &r.layers.Points[receiver]
	l := light{source: make([]part, len(r.setup.Sources)), doubts: sensitivity{}}
	l.level, l.stderr = p.Level(r.y)
	l.xyz = colour.XYZ{X: sum(p.Response, r.x), Y: sum(p.Response, r.y), Z: sum(p.Response, r.z)}
	for i, s := range r.setup.Sources {
		for _, e := range s.Emitters {
			l.source[i].level += r.emitter(p.Response, r.y, e)
			l.source[i].direct += r.emitter(p.Direct, r.y, e)
			l.source[i].xyz = l.source[i].xyz.Add(colour.XYZ{X: r.emitter(p.Response, r.x, e), Y: r.emitter(p.Response, r.y, e), Z: r.emitter(p.Response, r.z, e)})
		}
		l.weigh(i, &r.setup.Sources[i])
	}
	for e := range r.setup.Dials {
		l.full = append(l.full, r.emitter(p.Response, r.full, e))
	}
	r.weighCloths(&l, p)
	return l
}

// emitter sums an emitter's columns under its weights.
func (r *reader) emitter(response, weights []spectrum.Band, e int) (level float64) {
	for _, c := range r.setup.Scene.ColumnsOf(e) {
		level += response[c].Dot(weights[c])
	}
	return level
}

// share is the part of the level that source i gives.
func (l *light) share(i int) float64 {
	if l.level <= 0 {
		return 0
	}
	return l.source[i].level / l.level
}

// weigh books the source's own doubts.
func (l *light) weigh(i int, s *scene.Source) {
	for _, d := range s.Doubts {
		l.doubts[d.Cause] += l.share(i) * float64(d.Stops)
	}
}

// weighCloths books each cloth's doubt by the part of the light that met it. What met a cloth is known for the mean
// over bands; the cloth's tint is too weak to matter here.
func (r *reader) weighCloths(l *light, p *transport.Point) {
	for _, s := range r.setup.Sources {
		for _, e := range s.Emitters {
			all := meanResponse(r.setup.Scene, p, e)
			if all <= 0 || l.level <= 0 {
				continue
			}
			share := r.emitter(p.Response, r.y, e) / l.level
			for c, kind := range r.setup.ClothKinds {
				met := math.Min(1, p.Via[e][c]/all)
				l.doubts["cloth "+kind] += share * met * float64(r.setup.ClothDoubts[c])
			}
		}
	}
}

// meanResponse is an emitter's response in the mean over bands, all columns.
func meanResponse(s *scene.Scene, p *transport.Point, e int) (m float64) {
	for _, c := range s.ColumnsOf(e) {
		for _, x := range p.Response[c] {
			m += x / spectrum.Bands
		}
	}
	return m
}

func sum(response, weights []spectrum.Band) (s float64) {
	for c := range response {
		s += response[c].Dot(weights[c])
	}
	return s
}

// sampling is the part of an interval that more paths would narrow.
func (l *light) sampling() unit.Stop { return 1.96 * transport.StopError(l.level, l.stderr) }
