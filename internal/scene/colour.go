package scene

import (
	"gloam/internal/document"
	"gloam/internal/gear"
	"gloam/internal/plan"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// balance sets the camera's response to its balance.
func (b *builder) balance(c *plan.Camera) {
	response, err := b.view.Response()
	if err != nil {
		b.failed("camera.response", err)
		return
	}
	b.setup.Balance, b.setup.Tint = *c.Balance, c.Tint
	if b.setup.Recorder, err = response.Balance(*c.Balance, c.Tint); err != nil {
		b.failed("camera.balance", err)
	}
}

// light returns the spectrum of a source that is not a lamp: that of a colour, or a stated one, as it is or turned to a
// reading. Plain is the spectrum of a colour whose Duv was not read.
func (b *builder) light(path document.Path, name string, kelvin *unit.Kelvin, duv *float64, plain func(unit.Kelvin) (spectrum.Curve, error)) spectrum.Curve {
	var c spectrum.Curve
	var err error
	at := path.Join("colour")
	if name != "" {
		at = path.Join("spectrum")
		c, err = b.view.Spectrum(name)
	} else {
		c, err = plain(*kelvin)
	}
	if err == nil && duv != nil && kelvin != nil {
		at = path.Join("duv")
		c, err = spectrum.Tuned(c, *kelvin, *duv)
	}
	if err != nil {
		b.failed(at, err)
	}
	return c
}

// onLocus is the white light of a practical whose Duv was not read.
func onLocus(kelvin unit.Kelvin) (spectrum.Curve, error) { return spectrum.White(kelvin, 0) }

// lampLight returns the spectrum of a lamp as it is set: as measured, or what the kit makes of its colour.
func (b *builder) lampLight(path document.Path, l *plan.Lamp, kit *gear.Lamp) spectrum.Curve {
	var c spectrum.Curve
	var err error
	at := path.Join("colour")
	switch {
	case l.Spectrum != "":
		at = path.Join("spectrum")
		c, err = b.view.Spectrum(l.Spectrum)
	case kit != nil:
		c, err = kit.Light(*l.Colour, l.Duv)
	case l.Duv != nil:
		at = path.Join("duv")
		c, err = spectrum.White(*l.Colour, *l.Duv)
	default:
		c, err = onLocus(*l.Colour)
	}
	if err != nil {
		b.failed(at, err)
	}
	return c
}

// ripples books how far a source's light swings with the mains.
func (b *builder) ripples(emitter int, ripple unit.Fraction) {
	if ripple > 0 {
		b.setup.Ripples = append(b.setup.Ripples, RippleUse{emitter, ripple})
	}
}

// RippleUse is an emitter whose light swings twice a cycle of the mains by Depth, (most − least) / (most + least).
type RippleUse struct {
	Emitter int
	Depth   unit.Fraction
}

// Recorded returns the weights of what the camera records under its balance, as Scene.TristimulusWeights does of what the
// eye sees.
func (s *Setup) Recorded() (x, y, z []spectrum.Band) {
	return s.Scene.WeightsSeen(s.Dials, s.Recorder.Light)
}
