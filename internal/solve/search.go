package solve

import (
	"context"
	"math"

	"gloam/internal/fault"
	"gloam/internal/numeric"
	"gloam/internal/unit"
)

// Variable is one coordinate of a place: a distance along a line, a height, a side of an area.
type Variable struct {
	Name       string
	Low, High  unit.Metre
	Resolution unit.Metre // how near is near enough, above 0
	Home       unit.Metre // where it is best left, where targets leave it free
	Prefer     float64    // how much that weighs against the homes of others, from 0
}

// Search looks for the place, inside the variables' ranges, from which the targets are best met.
type Search struct {
	Variables []Variable // one to three
	Most      int        // places tried at most
	// Light returns the problem as it is with the place, and the standard error that sampling leaves in its levels.
	Light func(ctx context.Context, at []unit.Metre) (p *Problem, stderr unit.Stop, err error)
}

// Found is a place and its answer. Outcome is the answer's once the ranges are searched down to the resolution or Most
// places are tried, and Stopped when the context ended the search.
type Found struct {
	Outcome Outcome
	At      []unit.Metre
	Answer  Answer
	Stderr  unit.Stop
	Tried   int
}

// Run searches, the same way each time. Tell, unless nil, hears the best so far after each place. The best of many noisy
// places is luckier than it is good: trace it again with another seed before it is shown.
func (s *Search) Run(ctx context.Context, tell func(Found)) (Found, error) {
	if err := s.check(); err != nil {
		return Found{}, err
	}
	box := numeric.Lowest{Budget: s.Most}
	for _, v := range s.Variables {
		box.Low, box.High = append(box.Low, float64(v.Low)), append(box.High, float64(v.High))
		box.Resolution = append(box.Resolution, float64(v.Resolution))
	}
	best, lowest := Found{Outcome: Stopped}, math.Inf(1)
	var failed error
	box.Find(func(x []float64) (float64, float64, bool) {
		if ctx.Err() != nil {
			return 0, 0, false
		}
		at := make([]unit.Metre, len(x))
		for i := range x {
			at[i] = unit.Metre(x[i])
		}
		p, stderr, err := s.Light(ctx, at)
		if err == nil {
			var a Answer
			if a, err = Solve(p); err == nil {
				value := s.merit(at, p, &a)
				if best.Tried++; value < lowest || best.At == nil {
					lowest, best.At, best.Answer, best.Stderr = value, at, a, stderr
				}
				if tell != nil {
					tell(best)
				}
				return value, float64(stderr), true
			}
		}
		if ctx.Err() == nil {
			failed = err
		}
		return 0, 0, false
	})
	if failed == nil && ctx.Err() == nil {
		best.Outcome = best.Answer.Outcome
	}
	return best, failed
}

// preferred is what a whole range of a preferred variable weighs against a miss in stops.
const preferred = 0.05

// merit is the worst miss in stops, at most ten; where none is left, how near the place is to home, below 0, and what lamps lack to what is wanted itself.
func (s *Search) merit(at []unit.Metre, p *Problem, a *Answer) float64 {
	if a.Miss > 0 {
		return min(float64(a.Miss), 10)
	}
	lacks := 0.
	for _, r := range p.Reserves(a.Dims, a.Exposure) {
		lacks = max(lacks, min(-float64(r.Stops), 10))
	}
	way, sum := 0., 0.
	for i, v := range s.Variables {
		if v.High > v.Low {
			way += v.Prefer * math.Abs(float64((v.Home-at[i])/(v.High-v.Low)))
		}
		sum += v.Prefer
	}
	if sum == 0 {
		return lacks - preferred
	}
	return lacks - preferred*(1-way/sum)
}

func (s *Search) check() error {
	if n := len(s.Variables); n < 1 || n > 3 || s.Light == nil || s.Most < 1 {
		panic("solve: a search needs one to three variables, a light and at least one trial")
	}
	var faults fault.List
	for _, v := range s.Variables {
		if !(v.Low <= v.High && v.Resolution > 0 && v.Prefer >= 0) || math.IsInf(float64(v.High-v.Low), 1) {
			faults = append(faults, fault.Fault{Path: v.Name, Text: "a range goes from low to high, with a resolution above 0"})
		}
	}
	return faults.Err()
}
