package solve

import (
	"math"

	"gloam/internal/unit"
)

// system is a problem made ready for descent: plain numbers in flat rows. The variables are each lamp's share of full
// output, then the exposure in stops if it is free, then the middle level of each target across points in log2 lux.
type system struct {
	lamps, variables int
	exposure         int       // its variable, or -1
	points           []int     // of the problem, those that targets look at
	full, byLamp     []float64 // lux at full output, by point and lamp; by lamp and point
	base             []float64 // lux of what is not set, by condition and point
	rows             []row
	middles          []middle
	mixed            bool   // some row is not over a constant, or the exposure is free
	dark             []bool // by target: no setting lights what it looks at
	low, high        []float64
}

// row asks one level in one condition: log2 of a cell, over another cell or a constant, plus or minus a variable.
type row struct {
	target         int
	over, under    int     // cells, condition by point; under is -1 for a constant
	constant       float64 // log2 of what the level is over
	shift          int     // a variable added, or -1
	sign           float64 // +1 for the exposure, -1 for a middle
	low, high      float64 // where the target is met, in stops
	wanted, weight float64
	one            bool // binds on one side alone, so that nothing draws it to the wanted level
}

// middle is the variable that a target across points is measured from.
type middle struct{ variable, first, end int } // its rows

// newSystem compiles a checked problem.
func newSystem(p *Problem) *system {
	most := len(p.Lamps) + 1 + len(p.Targets)*len(p.Conditions) // variables
	s := &system{lamps: len(p.Lamps), variables: len(p.Lamps), exposure: -1, dark: make([]bool, len(p.Targets)),
		low: make([]float64, 0, most), high: make([]float64, 0, most), rows: make([]row, 0, p.mostRows())}
	for i := range p.Lamps {
		l := &p.Lamps[i]
		low := l.output(l.Min)
		if l.CanBeOff {
			low = 0
		}
		s.low, s.high = append(s.low, low), append(s.high, l.output(l.Max))
	}
	if p.Exposure.Low < p.Exposure.High {
		s.exposure = s.addVariable(float64(p.Exposure.Low), float64(p.Exposure.High))
		s.mixed = true
	}
	place := s.placePoints(p)
	for i := range p.Targets {
		if s.dark[i] = p.isDark(&p.Targets[i]); s.dark[i] {
			continue
		}
		if len(p.Targets[i].Across) > 0 {
			s.addAcross(p, i, place)
			continue
		}
		for c := range p.Conditions {
			s.rows = append(s.rows, s.rowOf(p, i, c, place))
		}
	}
	return s
}

func (s *system) addVariable(low, high float64) int {
	s.low, s.high = append(s.low, low), append(s.high, high)
	s.variables++
	return s.variables - 1
}

// mostRows is how many rows the targets have if none is in the dark.
func (p *Problem) mostRows() (n int) {
	for i := range p.Targets {
		n += max(len(p.Targets[i].Across), 1) * len(p.Conditions)
	}
	return n
}

// placePoints gathers the points that targets look at, and returns where each stands.
func (s *system) placePoints(p *Problem) []int {
	place := make([]int, len(p.Points))
	s.points = make([]int, 0, len(p.Points))
	s.full = make([]float64, 0, len(p.Points)*s.lamps)
	for i := range place {
		place[i] = -1
	}
	add := func(point int) {
		if point >= 0 && place[point] < 0 {
			place[point] = len(s.points)
			s.points = append(s.points, point)
			for _, e := range p.Points[point].By {
				s.full = append(s.full, float64(e))
			}
		}
	}
	for i := range p.Targets {
		t := &p.Targets[i]
		if len(t.Across) == 0 {
			add(t.Point)
			add(t.Over)
		}
		for _, point := range t.Across {
			add(point)
		}
	}
	s.byLamp = make([]float64, 0, len(s.full))
	for j := range s.lamps {
		for _, point := range s.points {
			s.byLamp = append(s.byLamp, float64(p.Points[point].By[j]))
		}
	}
	s.base = make([]float64, 0, len(s.points)*len(p.Conditions))
	for c := range p.Conditions {
		for _, point := range s.points {
			s.base = append(s.base, float64(p.Points[point].Ambient[c]+p.Points[point].Fixed))
		}
	}
	return place
}

// isDark reports whether no setting gives the target a level: nothing lights its point, or what that is measured over. A
// point in the dark still meets a target that wants it under something lit, and the reverse.
func (p *Problem) isDark(t *Target) bool {
	for c := range p.Conditions {
		for _, point := range t.Across {
			if !p.canBeLit(point, c) {
				return true
			}
		}
		if len(t.Across) > 0 {
			continue
		}
		lit, overLit := p.canBeLit(t.Point, c), true
		switch {
		case t.Over == OverAmbient:
			overLit = p.Points[t.Point].Ambient[c] > 0
		case t.Over >= 0:
			overLit = p.canBeLit(t.Over, c)
		}
		if !lit && !(overLit && t.Sense == AtMost) || !overLit && !(lit && t.Sense == AtLeast) {
			return true
		}
	}
	return false
}

func (p *Problem) canBeLit(point, condition int) bool {
	q := &p.Points[point]
	most := q.Ambient[condition] + q.Fixed
	for i, e := range q.By {
		most += e * unit.Lux(p.Lamps[i].output(p.Lamps[i].Max))
	}
	return most > 0
}

func (s *system) rowOf(p *Problem, target, condition int, place []int) row {
	t := &p.Targets[target]
	r := row{target: target, over: condition*len(s.points) + place[t.Point], under: -1, shift: -1,
		wanted: float64(t.Wanted), weight: t.weight(), one: t.Sense != At}
	r.low, r.high = t.band()
	switch t.Over {
	case OverKey:
		r.constant, r.shift, r.sign = math.Log2(float64(p.Key)), s.exposure, 1
	case OverAmbient:
		r.constant = math.Log2(float64(p.Points[t.Point].Ambient[condition]))
	default:
		r.under, s.mixed = condition*len(s.points)+place[t.Over], true
	}
	return r
}

// addAcross asks each point to lie within half the wanted difference of a free middle. With √2 in the weight, two points
// outside cost what they differ by, squared.
func (s *system) addAcross(p *Problem, target int, place []int) {
	t := &p.Targets[target]
	half := float64(t.Wanted+t.Tolerance) / 2
	s.mixed = true
	for c := range p.Conditions {
		m := middle{variable: s.addVariable(math.Inf(-1), math.Inf(1)), first: len(s.rows)}
		for _, point := range t.Across {
			s.rows = append(s.rows, row{target: target, over: c*len(s.points) + place[point], under: -1,
				shift: m.variable, sign: -1, low: -half, high: half, weight: t.weight() * math.Sqrt2, one: true})
		}
		m.end = len(s.rows)
		s.middles = append(s.middles, m)
	}
}

// band returns where the target is met, in stops.
func (t *Target) band() (low, high float64) {
	low, high = float64(t.Wanted-t.Tolerance), float64(t.Wanted+t.Tolerance)
	if len(t.Across) > 0 || t.Sense == AtMost {
		low = math.Inf(-1)
	} else if t.Sense == AtLeast {
		high = math.Inf(1)
	}
	return low, high
}

func (t *Target) weight() float64 {
	if t.Weight == 0 {
		return 1
	}
	return t.Weight
}
