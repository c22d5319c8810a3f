package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gloam/internal/fault"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

const finishForms = "a material: dark wood, snow 0.85, 0.35, 35 %, mirror 0.9, one of your own"

// mirrorReflectance is what a mirror without a figure reflects (common practice, no source: a clean silvered mirror).
const mirrorReflectance unit.Fraction = 0.9

// Finish is what a surface is made of.
type Finish struct {
	Word        string         // trade word (spectrum.Material) whose colour it has; "" for a plain grey or a mirror
	Reflectance *unit.Fraction // as stated; nil: the trade word's own
	Mirror      bool           // reflects as a mirror does, by Reflectance
}

// parseFinish reads a word, a reflectance, or a word and a reflectance. Whether the word is known it does not ask.
func parseFinish(text string) (Finish, error) {
	words := strings.Fields(text)
	if len(words) == 0 {
		return Finish{}, fault.Fault{Text: "is empty", Allowed: finishForms}
	}
	first := slices.IndexFunc(words, func(w string) bool { return strings.IndexAny(w, "0123456789.,+-−½⅓⅔¼¾") == 0 })
	if first < 0 {
		first = len(words)
	}
	f := Finish{Word: strings.Join(words[:first], " ")}
	if first < len(words) {
		f.Reflectance = new(unit.Fraction)
		if err := f.Reflectance.Parse(strings.Join(words[first:], " ")); err != nil {
			return Finish{}, fmt.Errorf("the reflectance %w", err)
		}
	}
	if strings.EqualFold(f.Word, "mirror") {
		f.Word, f.Mirror = "", true
		if f.Reflectance == nil {
			rho := mirrorReflectance
			f.Reflectance = &rho
		}
	}
	return f, nil
}

// Finish returns what the material written in a plan stands for: a reflectance, a mirror, a trade word or a material of
// the plan's own. The error is a fault without a place.
func (d *Document) Finish(text string) (Finish, error) {
	f, err := parseFinish(text)
	if err != nil || f.Word == "" {
		return f, err
	}
	if own, ok := d.Materials.Get(f.Word); ok {
		stated := f.Reflectance
		if f, err = own.finish(); err != nil {
			return Finish{}, err
		}
		if stated != nil {
			f.Reflectance = stated
		}
		return f, nil
	}
	return f, f.name(d.Materials.Names())
}

// name turns the word into the trade word it stands for, in whatever case and order of words it is written.
func (f *Finish) name(own []string) error {
	known := spectrum.MaterialNames()
	i := slices.IndexFunc(known, func(n string) bool { return sortedWords(n) == sortedWords(f.Word) })
	if i < 0 {
		return fault.Fault{Text: fmt.Sprintf("no material is called %q", f.Word), Allowed: finishForms,
			Hint: fault.Meant(f.Word, slices.Concat(own, known))}
	}
	f.Word = known[i]
	reflectance, _ := spectrum.Material(f.Word)
	if f.Reflectance != nil {
		if _, err := reflectance.Scaled(*f.Reflectance); err != nil {
			return err
		}
	}
	return nil
}

func sortedWords(text string) string {
	words := strings.Fields(strings.ToLower(text))
	slices.Sort(words)
	return strings.Join(words, " ")
}

// finish returns what a material of the plan's own is. A matt surface of luminance L in the illuminance E reflects
// πL/E.
func (m *Material) finish() (Finish, error) {
	f := Finish{Word: m.Like, Reflectance: m.Reflectance}
	if m.Luminance != nil && m.Level != nil {
		rho := unit.Fraction(math.Pi * float64(*m.Luminance) / float64(*m.Level))
		if !(rho <= 1) {
			return Finish{}, fault.Fault{Text: "reflects more light than falls on it",
				Read: fmt.Sprintf("luminance %v at level %v", *m.Luminance, *m.Level),
				Hint: "take both readings at the same place, in the same light"}
		}
		f.Reflectance = &rho
	}
	switch {
	case m.Luminance == nil != (m.Level == nil):
		return Finish{}, fault.Fault{Text: "luminance and level go together", Hint: "give both readings, or a reflectance"}
	case m.Luminance != nil && m.Reflectance != nil:
		return Finish{}, fault.Fault{Text: "the reflectance is given twice", Hint: "give it, or the two readings"}
	case f.Word == "" && f.Reflectance == nil:
		return Finish{}, fault.Fault{Text: "says nothing about the surface", Allowed: "like, reflectance, or luminance with level"}
	case f.Word == "":
		return f, nil
	}
	return f, f.name(nil)
}
