package meter

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gloam/internal/colour"
	"gloam/internal/scene"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// White is a light's colour to the eye, and by how much and to which side it stands from the camera's balance. A null
// is a number that a light so far from white does not have.
type White struct {
	CCT   *unit.Kelvin `json:"cct_k"`
	Duv   *float64     `json:"duv"`
	Mired *unit.Mired  `json:"mired_from_balance"`
	Words string       `json:"words"`
}

// Recorded is the same as the camera records it: the smooth light it cannot tell from this one, against the light its
// balance makes neutral.
type Recorded struct {
	Mired *unit.Mired `json:"mired_from_balance"`
	Duv   *float64    `json:"duv_from_balance"`
	Words string      `json:"words"`
}

// SourceColour is a source as it leaves the head, its gel there included.
type SourceColour struct {
	Source string `json:"source"`
	White
	Camera Recorded `json:"camera"`
}

// white puts a colour to the eye into numbers and words.
func (r *reader) white(c colour.XYZ) (w White) {
	cct, duv, err := colour.CCTDuv(c)
	if err != nil || !(c.Y > 0) {
		return w
	}
	mired := colour.MiredFromBalance(cct, r.setup.Balance)
	return White{&cct, &duv, &mired, words(mired, duv)}
}

// recorded does the same for what the camera makes of it, by the sums of its raw signals.
func (r *reader) recorded(signals [3]float64, eye colour.XYZ) (c Recorded) {
	if !(eye.Y > 0) {
		return c
	}
	v, err := r.setup.Recorder.Camera().ViewOf(signals, eye)
	if err != nil {
		return c
	}
	mired, duv := colour.MiredFromBalance(v.Kelvin, r.setup.Balance), v.Duv-r.setup.Tint
	return Recorded{&mired, &duv, words(mired, duv)}
}

func words(mired unit.Mired, duv float64) string {
	warmth, tint := colour.Warmth(mired), colour.Tint(duv)
	switch {
	case tint == "neutral":
		return warmth
	case warmth == "neutral":
		return tint
	}
	return warmth + ", " + tint
}

// look is a light on its own to eye and camera.
func (r *reader) look(light spectrum.Curve, gels ...spectrum.Curve) (White, Recorded) {
	eye, raw := spectrum.LightThrough(light, gels...), r.setup.Recorder.Camera().Signals(light, gels...)
	c := colour.Of(eye, whole)
	return r.white(c), r.recorded([3]float64{raw.X.Dot(whole), raw.Y.Dot(whole), raw.Z.Dot(whole)}, c)
}

// whole is a response of 1 in every band.
var whole = spectrum.ND(0)

// sources tells the colour of each source; of several emitters the first stands for all.
func (r *reader) sources() []SourceColour {
	out := []SourceColour{}
	for _, s := range r.setup.Sources {
		d := &r.setup.Dials[s.Emitters[0]]
		c := SourceColour{Source: s.Name}
		c.White, c.Camera = r.look(d.Light, d.Gel)
		out = append(out, c)
	}
	return out
}

// apart is how many mired count as meant and not as chance: what is seen across a cut (common practice, no source).
const apart unit.Mired = 10

// notes tells lamps that are warmed or cooled twice: by their own colour and by a balance that colours the ambient to the
// same side, or by their own colour and a gel; and light of which eye and camera disagree.
func (r *reader) notes(sources []SourceColour) []string {
	notes := []string{}
	for i, s := range r.setup.Sources {
		c := &sources[i]
		if d := &r.setup.Dials[s.Emitters[0]]; r.isLamp(s.Emitters[0]) && c.Mired != nil {
			if bare, _ := r.look(d.Light); bare.Mired != nil && sameSide(*bare.Mired, *c.Mired-*bare.Mired) {
				notes = append(notes, twice(s.Name, *c.Mired, "its own colour", *bare.Mired, "its gel", *c.Mired-*bare.Mired))
			} else if a := r.ambientMired(sources); a != nil && sameSide(*a, *c.Mired-*a) {
				notes = append(notes, twice(s.Name, *c.Mired, "its colour against the ambient", *c.Mired-*a, "the balance", *a))
			}
		}
		if c.Mired == nil || c.Camera.Mired == nil {
			continue
		}
		between := colour.Difference{Mired: *c.Mired - *c.Camera.Mired, Duv: *c.Duv - r.setup.Tint - *c.Camera.Duv}
		if colour.SideBySide.Of(between) > 1 {
			notes = append(notes, fmt.Sprintf("%s: %s to the camera, %s to the eye; match it by the camera", s.Name,
				described(*c.Camera.Mired, *c.Camera.Duv), described(*c.Mired, *c.Duv)))
		}
	}
	return notes
}

// isLamp reports whether an emitter is a lamp of the crew's own, not a practical or an ambient.
func (r *reader) isLamp(emitter int) bool {
	return slices.ContainsFunc(r.setup.Lamps, func(u scene.LampUse) bool { return u.Emitter == emitter && u.Kit != nil })
}

// ambientMired is how the light that was there stands to the balance; nil where none was, or nothing is known of it.
func (r *reader) ambientMired(sources []SourceColour) *unit.Mired {
	for i, s := range r.setup.Sources {
		if s.Ambient && sources[i].Mired != nil {
			return sources[i].Mired
		}
	}
	return nil
}

func sameSide(a, b unit.Mired) bool {
	return math.Abs(float64(a)) >= float64(apart) && math.Abs(float64(b)) >= float64(apart) && a*b > 0
}

func twice(name string, total unit.Mired, one string, by unit.Mired, other string, rest unit.Mired) string {
	word := "warmed"
	if total < 0 {
		word = "cooled"
	}
	return fmt.Sprintf("%s: %s twice, %s mired from balance: %s by %s and %s by %s", name, word,
		number(total), number(by), one, number(rest), other)
}

func described(mired unit.Mired, duv float64) string {
	return fmt.Sprintf("%s mired, Duv %s", number(mired), strings.Replace(fmt.Sprintf("%+.4f", duv), "-", "−", 1))
}

func number(m unit.Mired) string {
	return strings.Replace(fmt.Sprintf("%+.0f", float64(m)), "-", "−", 1)
}
