package solve

import (
	"math"
	"slices"
	"strings"
)

// part is the share of what pulls on a setting from which one pull counts.
const part = 0.05

// limits names what keeps the targets from being met. At the stepless best, each target pulls on each setting by its
// miss: a setting that is pulled against its end limits them; one that is pulled both ways shows a conflict.
func (d *dials) limits(standings []Standing) (out []Limit) {
	for i := range standings {
		if d.dark[i] {
			out = append(out, Limit{Unlit, -1, []int{i}})
		}
	}
	if d.lamps == 0 && d.exposure < 0 {
		return append(out, Limit{NoLamp, -1, d.missedNow(standings, out)})
	}
	copy(d.x, d.free)
	pulls := d.pulls()
	if pulls == nil {
		if rest := d.missedNow(standings, out); len(rest) > 0 {
			out = append(out, Limit{ControlSteps, -1, rest})
		}
		return out
	}
	out = append(out, d.ends(pulls)...)
	if conflict := conflicting(pulls); len(conflict) > 0 {
		out = append(out, Limit{Conflict, -1, conflict})
	}
	out = append(out, d.otherLight(standings)...)
	if rest := d.missedNow(standings, out); len(rest) > 0 {
		out = append(out, Limit{Unmoved, -1, rest})
	}
	return out
}

// missedNow returns the missed targets that no limit so far names.
func (d *dials) missedNow(standings []Standing, so []Limit) (missed []int) {
	for i := range standings {
		named := func(l Limit) bool { return slices.Contains(l.Targets, i) }
		if standings[i].Miss > near && !slices.ContainsFunc(so, named) {
			missed = append(missed, i)
		}
	}
	return missed
}

// pulls returns by setting and target how strongly the target's misses at x pull: above 0 toward more. Nil: there is no
// miss.
func (d *dials) pulls() [][]float64 {
	d.light(d.x)
	any := false
	all := make([][]float64, d.lamps, d.lamps+1)
	if d.exposure >= 0 {
		all = all[:d.lamps+1] // its variable stands behind the lamps'
	}
	targets := len(d.problem.Targets)
	room := make([]float64, len(all)*targets)
	for j := range all {
		all[j] = room[j*targets:][:targets]
	}
	for i := range d.rows {
		r := &d.rows[i]
		e := r.miss(d.of(r, d.x))
		if e == 0 {
			continue
		}
		any = any || math.Abs(e) > near/2
		pull, slopes := r.weight*r.weight*e, d.slopes[:d.lamps]
		d.slope(r, slopes)
		for j, s := range slopes {
			all[j][r.target] -= pull * s
		}
		if d.exposure >= 0 && r.shift == d.exposure {
			all[d.lamps][r.target] -= pull * r.sign
		}
	}
	if !any {
		return nil
	}
	return all
}

// sums returns how strongly a setting is pulled toward more and toward less.
func sums(pulls []float64) (more, less float64) {
	for _, p := range pulls {
		more, less = more+max(p, 0), less+max(-p, 0)
	}
	return more, less
}

// pulling returns the targets that pull one way: sign +1 toward more.
func pulling(pulls []float64, sign, sum float64) (targets []int) {
	for t, p := range pulls {
		if p*sign > part*sum {
			targets = append(targets, t)
		}
	}
	return targets
}

// ends names the settings that are pulled against their ends.
func (d *dials) ends(pulls [][]float64) (out []Limit) {
	for j := range pulls {
		more, less := sums(pulls[j])
		kind, lamp := LampFull, j
		sign := 1.
		least := 0.
		if j < d.lamps {
			least = d.problem.Lamps[j].output(d.problem.Lamps[j].Min)
		}
		switch full, low := d.x[j] >= d.system.high[j]-1e-9, d.x[j] <= least+1e-9; {
		case j >= d.lamps && (more > less && full || less > more && d.x[j] <= d.system.low[j]+1e-9):
			kind, lamp = ExposureEnd, -1
			sign = math.Copysign(1, more-less)
		case j < d.lamps && more > less && full:
		case j < d.lamps && less > more && low && least > 0 && d.x[j] > 0:
			kind, sign = LampLeast, -1
		default:
			continue
		}
		if targets := pulling(pulls[j], sign, more+less); len(targets) > 0 {
			out = append(out, Limit{kind, lamp, targets})
		}
	}
	return out
}

// conflicting returns the targets that pull a setting both ways.
func conflicting(pulls [][]float64) (targets []int) {
	var in []bool // by target
	for _, on := range pulls {
		more, less := sums(on)
		if !(min(more, less) > part*(more+less)) {
			continue
		}
		if in == nil {
			in = make([]bool, len(on))
		}
		for t, p := range on {
			in[t] = in[t] || math.Abs(p) > part*(more+less)
		}
	}
	for t := range in {
		if in[t] {
			targets = append(targets, t)
		}
	}
	return targets
}

// otherLight names the missed targets that are above what is wanted with every lamp at its least.
func (d *dials) otherLight(standings []Standing) (out []Limit) {
	copy(d.x[:d.lamps], d.system.low)
	d.light(d.x)
	for i := range d.rows {
		r := &d.rows[i]
		over := len(d.problem.Targets[r.target].Across) == 0 && d.of(r, d.x) > r.high+near
		if over && standings[r.target].Miss > near && (len(out) == 0 || out[len(out)-1].Targets[0] != r.target) {
			out = append(out, Limit{OtherLight, -1, []int{r.target}})
		}
	}
	return out
}

// Say returns the limit in words: `key at full: face needs more`.
func (p *Problem) Say(l Limit) string {
	names := make([]string, len(l.Targets))
	for i, t := range l.Targets {
		names[i] = p.Targets[t].Name
	}
	all := strings.Join(names, ", ")
	switch l.Kind {
	case LampFull:
		return p.Lamps[l.Lamp].Name + " at full: " + all + " needs more"
	case LampLeast:
		return p.Lamps[l.Lamp].Name + " at its least: " + all + " needs less"
	}
	return string(l.Kind) + ": " + all
}
