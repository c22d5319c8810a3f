// Package clock tells when a look holds: between which times the levels of points stay where they are wanted, how long that
// is, and what the lamps must do meanwhile; when the sun stands where it helps or harms; what a window's gel can do.
//
// It works on plain values: what each source gives each receiver at equal steps of time. Between two steps all runs
// straight, so that with steps of a minute a time is good to a few seconds of what the light is worth: a level's doubt moves
// it by minutes. Nothing here reads a clock or a plan.
package clock

import (
	"math"
	"time"

	"gloam/internal/unit"
)

// Grid is instants in equal steps.
type Grid struct {
	From  time.Time
	Step  time.Duration
	Count int
}

// At returns an instant of the grid.
func (g Grid) At(i int) time.Time { return g.From.Add(time.Duration(i) * g.Step) }

// between returns the instant a share of a step after one of the grid.
func (g Grid) between(i int, share float64) time.Time {
	return g.At(i).Add(time.Duration(share * float64(g.Step)))
}

// Nearest returns the number of the instant of the grid that is nearest to a time.
func (g Grid) Nearest(t time.Time) int {
	i := int(math.Round(float64(t.Sub(g.From)) / float64(g.Step)))
	return min(max(i, 0), g.Count-1)
}

// Series is a value for each instant of a grid, or one for all of them.
type Series []float64

// At returns the value at an instant of the grid.
func (s Series) At(i int) float64 {
	if len(s) == 1 {
		return s[0]
	}
	return s[i]
}

// Doubt is one thing not known exactly: a 95 % half-width in stops of what it touches. Doubts of one cause are the same
// error wherever they appear.
type Doubt struct {
	Cause string
	Stops Series
}

// Part is what a source gives one receiver, in lx, or cd/m² at a spot, and how sure that is.
type Part struct {
	Level  Series
	Doubts []Doubt
}

// Source is a source's light in the course of time.
type Source struct {
	Name    string
	Ambient bool    // was there before any lamp was lit
	Model   bool    // comes from a model of daylight, nothing read
	Most    float64 // of a lamp: how many times as much as planned it can give; 0 is no lamp, or one that is off
	Parts   []Part  // by receiver
}

// Day is a set-up's light over a grid.
type Day struct {
	Grid
	Sources  []Source
	Sampling []unit.Stop // by receiver: the half-width that sampling leaves
}

// Scaled returns the day with all that comes from a model multiplied by a factor.
func (d *Day) Scaled(factor float64) *Day {
	scaled := *d
	scaled.Sources = make([]Source, len(d.Sources))
	for n, s := range d.Sources {
		scaled.Sources[n] = s
		if !s.Model {
			continue
		}
		parts := make([]Part, len(s.Parts))
		for r, p := range s.Parts {
			level := make(Series, len(p.Level))
			for i, x := range p.Level {
				level[i] = factor * x
			}
			parts[r] = Part{level, p.Doubts}
		}
		scaled.Sources[n].Parts = parts
	}
	return &scaled
}
