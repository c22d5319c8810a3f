package gear

import (
	"cmp"
	"math"
	"slices"

	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/photometry"
	"gloam/internal/unit"
)

// light is a lamp's beam, or its beams from spot to flood.
type light struct {
	fixed  photometry.Distribution // nil with a zoom
	family *photometry.Family      // nil without
	offset curve                   // m behind the front against ln of the beam in degrees; one point without a zoom
}

// light builds the light of a lamp; nil when it has faults.
func (r *reader) light(path document.Path, own, t *lampText, o Opening) *light {
	var l light
	switch {
	case t.Matt != nil:
		peak, rms, err := t.Matt.fit(o)
		if err != nil {
			r.tellAll(path.Join("matt").Join("levels"), err)
			return nil
		}
		l.fixed = photometry.Cosine(peak)
		if o.Shape == Tube {
			l.fixed = tubeBeam(peak)
		}
		if own.Matt != nil { // else the lamp it is like has been told of
			r.noteRMS(path.Join("matt").Join("levels"), rms)
			r.noteFlux(path.Join("matt"), t.Matt.Flux, l.fixed.Flux())
		}
	case t.file != nil:
		l.fixed = t.file.Table
	case len(t.Beams) == 1:
		l.fixed = photometry.Bell(t.Beams[0].peak, t.Beams[0].Beam)
	default:
		return r.zoom(path, t)
	}
	l.offset = offsets(t.Beams)
	if t.Engine != nil && float64(l.fixed.Flux()) > engineSlack*float64(*t.Engine) {
		r.tell(path, fault.Fault{Text: "the light is more than the engine gives", Read: l.fixed.Flux().String(),
			Allowed: "up to " + t.Engine.String()})
		return nil
	}
	return &l
}

// engineSlack is what rounding of data sheets explains, as in photometry.NewFamily.
const engineSlack = 1.02

// zoom builds a spot-to-flood light.
func (r *reader) zoom(path document.Path, t *lampText) *light {
	if t.Engine == nil {
		r.tell(path.Join("engine"), fault.Fault{Text: "is missing", Hint: "a spot-to-flood lamp needs the flux of its engine, so that no beam exceeds it"})
		return nil
	}
	settings := make([]photometry.Setting, len(t.Beams))
	for i, b := range t.Beams {
		settings[i] = photometry.Setting{Beam: b.Beam, Peak: b.peak}
	}
	family, err := photometry.NewFamily(settings, *t.Engine)
	if err != nil {
		r.tellAll(path.Join("beams"), err)
		return nil
	}
	return &light{family: family, offset: offsets(t.Beams)}
}

// offsets returns the offsets of beams, the narrowest first; none is one of 0.
func offsets(beams []beamText) curve {
	if len(beams) == 0 {
		return curve{{}}
	}
	var c curve
	for _, b := range beams {
		c = append(c, point{math.Log(float64(b.Beam)), float64(b.offset)})
	}
	slices.SortFunc(c, func(a, b point) int { return cmp.Compare(a.x, b.x) })
	return c
}

// at returns the distribution at full output and how far behind the front it seems to come from. Between the settings of
// a zoom the offset, like ln I0, is linear in ln β (invented interpolation).
func (l *light) at(zoom *unit.Degree) (photometry.Distribution, unit.Metre, error) {
	if l.family == nil {
		if zoom != nil {
			return nil, 0, fault.Fault{Text: "the lamp has no zoom", Read: zoom.String()}
		}
		return l.fixed, unit.Metre(l.offset[0].y), nil
	}
	if zoom == nil {
		spot, flood := l.family.Range()
		return nil, 0, fault.Fault{Text: "the zoom is missing", Allowed: spot.String() + " to " + flood.String()}
	}
	d, err := l.family.At(*zoom)
	if err != nil {
		return nil, 0, err
	}
	return d, unit.Metre(l.offset.at(math.Log(float64(*zoom)))), nil
}
