package solve

import (
	"context"
	"math"

	"gloam/internal/unit"
)

// KitAnswer is one choice of a kit and its settings.
type KitAnswer struct {
	Choice   []int // by position: the alternative
	Answer   Answer
	LampAt   []int // by lamp of the answer: its position
	Reserves []Reserve
	Least    unit.Stop // reserve of the lamp that has least; +∞ without lamps
	Cost     Cost      // at full output
	Softness unit.Degree
}

// Ranking is how far a kit was looked through and the answers, the best first. Outcome is Met if the first answer is,
// Stopped if the search was cancelled.
type Ranking struct {
	Outcome Outcome
	Choices int // looked through or ruled out by the budget
	Answers []KitAnswer
}

// Rank looks through all choices of a kit, solves the most promising 2000 in stops and ranks them: by the worst miss in
// twentieths of a stop, then by the order stated. Tell, unless nil, hears now and then how many choices are done and of
// how many. When the context is done, what was found so far is ranked. The error is a fault.List.
func (k *Kit) Rank(ctx context.Context, tell func(done, all int)) (Ranking, error) {
	all, err := k.check()
	if err != nil {
		return Ranking{}, err
	}
	w := newWalker(k, k.references())
	w.tell = func(done int) {
		if tell != nil {
			tell(done, all)
		}
	}
	w.walk(ctx, 0, 0, [costs]float64{})
	w.prune()
	r := Ranking{Outcome: Best, Choices: w.done}
	for i, s := range w.kept {
		if i > 0 && ctx.Err() != nil {
			w.cancelled = true
			break
		}
		r.Answers = append(r.Answers, k.solve(k.choice(s.choice)))
	}
	k.sort(r.Answers)
	r.Answers = r.Answers[:min(len(r.Answers), max(k.Answers, 1))]
	switch {
	case w.cancelled:
		r.Outcome = Stopped
	case len(r.Answers) > 0:
		r.Outcome = r.Answers[0].Answer.Outcome
	}
	return r, nil
}

const (
	sampled = 4096 // choices drawn to find reference levels
	leading = 40   // of them, those whose levels are taken
)

// references returns the levels that promising choices come to, by target and condition: the geometric means of the best
// of a sample, each solved in stops. Where a target is out of reach, its miss is judged from there and not from where it
// is wanted.
func (k *Kit) references() []reference {
	w := newWalker(k, nil)
	w.sample(sampled)
	w.prune()
	sum, n := make([]reference, len(k.Targets)*len(k.Conditions)), 0.
	seen := map[int]bool{}
	for _, s := range w.kept {
		if seen[s.choice] {
			continue
		}
		if seen[s.choice] = true; len(seen) > leading {
			break
		}
		p, _ := k.chosen(k.choice(s.choice))
		d := newDials(p)
		d.solve()
		for i := range k.Targets {
			for c := range k.Conditions {
				r := p.reference(&p.Targets[i], c, d.bestDims, d.answer().Exposure)
				sum[i*len(k.Conditions)+c].level += math.Log(r.level)
				sum[i*len(k.Conditions)+c].over += math.Log(r.over)
			}
		}
		n++
	}
	if n == 0 {
		return nil
	}
	for i := range sum {
		sum[i] = reference{math.Exp(sum[i].level / n), math.Exp(sum[i].over / n)}
	}
	return sum
}

// reference returns a target's levels under settings.
func (p *Problem) reference(t *Target, condition int, dims []unit.Fraction, exposure unit.Stop) reference {
	of := func(point int) float64 {
		e := float64(p.Points[point].Ambient[condition] + p.Points[point].Fixed)
		for j, a := range p.Points[point].By {
			e += float64(a) * p.Lamps[j].output(dims[j])
		}
		return e
	}
	r := reference{of(t.Point), float64(p.Key) / exposure.Factor()}
	switch {
	case t.Over == OverAmbient:
		r.over = float64(p.Points[t.Point].Ambient[condition])
	case t.Over >= 0:
		r.over = of(t.Over)
	}
	return r
}

// choice returns the alternatives of a numbered choice.
func (k *Kit) choice(number int) []int {
	out := make([]int, len(k.Positions))
	for i := len(out) - 1; i >= 0; i-- {
		n := len(k.Positions[i].Alternatives)
		out[i], number = number%n, number/n
	}
	return out
}

// solve finds the settings of a choice in stops, with the exposure and steps the kit allows.
func (k *Kit) solve(choice []int) KitAnswer {
	p, at := k.chosen(choice)
	d := newDials(p)
	d.solve()
	a := KitAnswer{Choice: choice, Answer: d.answer(), LampAt: at, Least: unit.Stop(math.Inf(1))}
	a.Reserves = p.Reserves(a.Answer.Dims, a.Answer.Exposure)
	for _, r := range a.Reserves {
		a.Least = min(a.Least, r.Stops)
	}
	var sum [costs]float64
	for i, c := range choice {
		for j, f := range k.Positions[i].Alternatives[c].Cost.figures() {
			sum[j] += f
		}
	}
	a.Cost = costOf(sum)
	a.Softness = k.softness(p, &a)
	return a
}

// softness is the mean of the lamps', weighted by what they give the first target's point.
func (k *Kit) softness(p *Problem, a *KitAnswer) unit.Degree {
	if len(p.Targets) == 0 {
		return 0
	}
	sum, light := 0., 0.
	for j, at := range a.LampAt {
		e := float64(p.Points[p.Targets[0].Point].By[j]) * p.Lamps[j].output(a.Answer.Dims[j])
		light += e
		sum += e * float64(k.Positions[at].Alternatives[a.Choice[at]].Softness)
	}
	if light == 0 {
		return 0
	}
	return unit.Degree(sum / light)
}
