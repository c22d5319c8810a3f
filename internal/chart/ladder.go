package chart

import (
	"slices"
	"strings"

	"gloam/internal/unit"
)

// Range is what is wanted, from Low to High.
type Range struct{ Low, High unit.Stop }

// Point is a metering point at its level. Text is that level as the reader wants it written, with its interval.
type Point struct {
	Name, Text string
	Level      unit.Stop // over key; no light at all is −∞, NaN is not known
	Interval   unit.Stop // 95 % half-width
	Target     *Range
	Outcome    Outcome
}

// Ladder is a set-up at one moment: every point at its level over the key, with its interval as a bar and its target as a
// bracket. From Clip up the picture is white, from Noise down it is noise; nil where it is not known.
type Ladder struct {
	Points      []Point
	Clip, Noise *unit.Stop
}

// Draw returns the stop ladder. Its scale "level" runs along y in stops over key.
func (l Ladder) Draw(f Frame) Drawing {
	r := rungs{scale: "level", unit: "stop", head: "stops over key", zero: "key", steps: []float64{1, 2, 5, 10},
		parts: 3, least: 2, limit: 20, clip: plainOf(l.Clip), noise: plainOf(l.Noise)}
	for _, p := range l.Points {
		m := mark{name: p.Name, text: joined(p.Text, string(p.Outcome)), value: float64(p.Level), interval: float64(p.Interval), outcome: p.Outcome}
		m.target = p.Target.plain()
		r.marks = append(r.marks, m)
	}
	return r.draw(f)
}

// plain returns the range as numbers, nil for none or for one that is no range.
func (r *Range) plain() *[2]float64 {
	if r == nil {
		return nil
	}
	return rangeOf(float64(r.Low), float64(r.High))
}

func rangeOf(low, high float64) *[2]float64 {
	if !(low <= high) { // nor NaN
		return nil
	}
	return &[2]float64{low, high}
}

func plainOf(s *unit.Stop) *float64 {
	if s == nil || !finite(float64(*s)) {
		return nil
	}
	v := float64(*s)
	return &v
}

// joined puts a comma between texts that are not empty.
func joined(texts ...string) string {
	return strings.Join(slices.DeleteFunc(texts, func(t string) bool { return t == "" }), ", ")
}
