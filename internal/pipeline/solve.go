package pipeline

import (
	"context"
	"math"
	"slices"

	"gloam/internal/document"
	"gloam/internal/meter"
	"gloam/internal/plan"
	"gloam/internal/solve"
	"gloam/internal/unit"
)

// Freedom is what a proposal may change beside the dims of lamps. A white board, a black cloth and lamps left out are always
// tried.
type Freedom struct {
	Exposure   bool `json:"exposure"`   // iris and filters, the EIs and shutters the plan allows
	Colour     bool `json:"colour"`     // colour temperature of lamps, for targets of colour
	Zoom       bool `json:"zoom"`       // spot to flood
	Mode       bool `json:"mode"`       // normal or quiet
	Kit        bool `json:"kit"`        // which lamp of the truck stands at a place
	Cloth      bool `json:"cloth"`      // which cloth is on a frame
	Window     bool `json:"window"`     // ND on all panes alike
	Practicals bool `json:"practicals"` // dims of practicals, and of lamps known by their photometry alone

	Moves []Move      `json:"moves"`
	From  *unit.Clock `json:"from"` // one setting is to hold from here to To; nil: at the set-up's own time
	To    *unit.Clock `json:"to"`
}

// Proposals are ranked ways to meet a set-up's targets, in the fields that `gloam solve --json` prints. Outcome is that of
// the first.
type Proposals struct {
	Setup   string        `json:"setup"`
	Outcome solve.Outcome `json:"outcome"`
	Choices int           `json:"choices"`       // looked through, or ruled out by what is there and by the limits
	Takes   Takes         `json:"planned_takes"` // of the set-up as planned
	Answers []Proposal    `json:"answers"`

	Planned *Result `json:"-"`
}

// Proposal is one way: what to change, and how all then stands, run forward through the engine with another seed. What says
// in words what it changes beside dims and camera.
type Proposal struct {
	Outcome  solve.Outcome   `json:"outcome"`
	What     []string        `json:"what"`
	Settings []Setting       `json:"settings"`
	Cameras  []CameraWay     `json:"cameras"`       // to the same exposure, the one proposed first; with Freedom.Exposure
	Reserve  *unit.Stop      `json:"reserve_stops"` // of the lamp that has least; null without lamps
	Takes    Takes           `json:"takes"`
	Softness unit.Degree     `json:"softness_deg"` // how large the source is, seen from the first target's point
	Points   []meter.Reading `json:"points"`
	Targets  []meter.Target  `json:"targets"`
	Lamps    []meter.Lamp    `json:"lamps"`
	Limits   []string        `json:"limits"`  // in words: what keeps targets from being met
	Through  []Through       `json:"through"` // with Freedom.From: by target

	Forward *Result `json:"-"`
}

// Through is what a target comes to over a stretch of the day: its least and greatest level, whatever the sky does inside its
// interval; a null is the dark.
type Through struct {
	Of   string     `json:"of"`
	Low  *unit.Stop `json:"low_stops"`
	High *unit.Stop `json:"high_stops"`
	Miss unit.Stop  `json:"miss_stops"`
}

// Setting is a value to be changed in the set-up's document, and how it stands there; Now is empty for one not written.
type Setting struct {
	Of    string        `json:"of"` // a lamp, a cloth, an opening, camera
	Field string        `json:"field"`
	Path  document.Path `json:"path"`
	Now   string        `json:"now"`
	New   string        `json:"new"`
}

// SolveOptions is how a search is run. Answers is how many ways are wanted; Tell, unless nil, hears how far the search is
// and what is best so far, in words.
type SolveOptions struct {
	Options
	Free    Freedom
	Answers int
	Order   []solve.Criterion
	Tell    func(share float64, best string)
}

// Solve looks for ways to meet the set-up's targets. It proposes and changes nothing. When the context is done, the best
// found so far is run forward: the outcome is then solve.Stopped. The error is a fault.
func Solve(ctx context.Context, view *plan.View, o SolveOptions) (*Proposals, error) {
	s := &solver{SolveOptions: o, ctx: ctx, view: view}
	if err := s.begin(); err != nil {
		return nil, err
	}
	for _, w := range s.worlds() {
		if ctx.Err() != nil {
			break
		}
		if err := s.rank(w); err != nil && ctx.Err() == nil {
			return nil, err
		}
	}
	out := &Proposals{Setup: view.Name, Outcome: solve.Best, Planned: s.planned, Choices: s.choices, Answers: []Proposal{}}
	out.Takes = takesOf(s.plannedTakes())
	slices.SortStableFunc(s.found, func(a, b candidate) int { return solve.Compare(&a.KitAnswer, &b.KitAnswer, o.Order) })
	for _, c := range s.distinct() {
		p, err := s.propose(&c)
		if err != nil {
			return nil, err
		}
		out.Answers = append(out.Answers, *p)
	}
	switch {
	case ctx.Err() != nil:
		out.Outcome = solve.Stopped
	case len(out.Answers) > 0:
		out.Outcome = out.Answers[0].Outcome
	}
	return out, nil
}

// Changes returns a proposal's settings as changes of the set-up's document.
func (p *Proposal) Changes() (all []plan.Change) {
	for _, s := range p.Settings {
		all = append(all, plan.Change{Path: s.Path, Value: s.New})
	}
	return all
}

// solver is one search under way.
type solver struct {
	SolveOptions
	ctx     context.Context
	view    *plan.View
	session Session
	planned *Result
	found   []candidate
	choices int
	done    int // worlds ranked
	all     int
}

// candidate is a way found in a world.
type candidate struct {
	solve.KitAnswer
	in     *world
	panes  int // into in.panes
	stands []stand
}

// begin traces the set-up as planned, with walks kept for lamps that change.
func (s *solver) begin() error {
	setup, err := s.session.build(s.ctx, s.view, s.Options)
	if err != nil {
		return err
	}
	q := s.session.request(setup, s.Options)
	q.Keep = walksKept
	if s.planned, err = finish(s.ctx, setup, q); err == nil {
		s.session.last = s.planned
	}
	return err
}

// tell says how far the search is: a share of the world at hand.
func (s *solver) tell(share float64) {
	if s.Tell == nil {
		return
	}
	best := ""
	for i := range s.found {
		if i == 0 || solve.Compare(&s.found[i].KitAnswer, &s.found[0].KitAnswer, s.Order) < 0 {
			s.found[0], s.found[i] = s.found[i], s.found[0]
		}
	}
	if len(s.found) > 0 {
		best = s.found[0].say()
	}
	s.Tell((float64(s.done)+share)/float64(max(s.all, 1)), best)
}

// farOff is by how much a way may miss that is still told beside one that meets all.
const farOff unit.Stop = 1

// distinct returns the best ways that differ in more than dims: in a world, in panes, in what is lit. Of two ways with the
// same lamps at swapped places that come to the same, one is enough, and beside one that meets all none is far off.
func (s *solver) distinct() (out []candidate) {
	plain := unit.Stop(math.Inf(1)) // the least miss with nothing set up or moved
	for i := range s.found {
		c := &s.found[i]
		if s.found[0].Answer.Miss == 0 && c.Answer.Miss > farOff {
			break
		}
		if len(c.in.changes) == 0 {
			plain = min(plain, c.Answer.Miss)
		}
		if c.Answer.Miss > plain+0.05 && len(c.in.changes) > 0 {
			continue // what more is set up only makes it worse
		}
		same := func(d candidate) bool {
			if d.in != c.in || d.panes != c.panes {
				return false
			}
			a, b := d.items(), c.items()
			alike := math.Abs(float64(d.Least-c.Least)) < 0.1 && math.Abs(float64(d.Answer.Miss-c.Answer.Miss)) < 0.05
			return slices.Equal(a, b) || alike && slices.Equal(slices.Sorted(slices.Values(a)), slices.Sorted(slices.Values(b)))
		}
		if len(out) < max(s.Answers, 1) && !slices.ContainsFunc(out, same) {
			out = append(out, *c)
		}
	}
	return out
}
