package daylight

import (
	"fmt"
	"math"
	"time"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

// Part is what a reading of daylight is of.
type Part int

// The parts of daylight.
const (
	Global  Part = iota // sun and sky on level ground
	Diffuse             // sky alone on level ground: the meter shaded from the sun
	Direct              // the sun alone, square-on
)

// Reading is one reading of daylight in the open.
type Reading struct {
	At       time.Time
	Kind     Kind // of the sky, as seen when it was read
	Part     Part
	Lux      unit.Lux
	Interval unit.Stop // 95 % half-width of the meter and how it was held; 0 is readingDoubt
}

const (
	readingDoubt = 0.1              // stops; a good incident meter on level ground (common practice)
	lasting      = 12 * time.Hour   // in which what lasts falls to 1/e
	passing      = 10 * time.Minute // in which what passes falls to 1/e
	acrossKinds  = 0.5              // correlation between two states of the sky of what lasts
)

// Day is the model of daylight corrected by readings.
type Day struct {
	model    func(time.Time, Kind) Levels
	readings []seen
	root     [][]float64 // Cholesky factor of the covariance of the readings
	weights  []float64   // that covariance's inverse times what the readings say
}

// seen is a reading with what the model had for it: state is the model's doubt about sun and sky, gain how far each moves the
// reading, both in stops.
type seen struct {
	Reading
	state
	gain  [2]float64
	model Levels
}

// state is one instant: the standard deviations of the model's sun and sky, in stops.
type state struct {
	at   time.Time
	kind Kind
	sd   [2]float64
}

const (
	bySun = iota
	bySky
)

// halfWidths is how many standard deviations a 95 % half-width is.
const halfWidths = 1.96

// Learn returns the model corrected by readings; model gives the levels of the place.
//
// The law (our choice of figures, the method is simple kriging [Cressie1993]): the model errs in stops by an amount for the
// sun and one for the sky, of the size of its intervals. A share of that lasts (the air of the day, the site) and is
// forgotten with e^(-t/12 h); the rest passes with e^(-t/10 min). Across a change of the sky's state half of what lasts is
// kept. So a reading wins where it was taken, and the model comes back, with its own interval, the farther away in hours and
// in sky the question is.
//
// Faults of kind Input: a reading without a clock time, a level that is not above 0, or one of a sun that the kind of sky
// does not have.
func Learn(model func(time.Time, Kind) Levels, readings []Reading) (*Day, error) {
	d := &Day{model: model}
	var faults fault.List
	for i, r := range readings {
		l := model(r.At, r.Kind)
		if f, bad := refuse(r, l); bad {
			f.Path = fmt.Sprintf("readings[%d]", i)
			faults = append(faults, f)
			continue
		}
		if r.Interval <= 0 {
			r.Interval = readingDoubt
		}
		d.readings = append(d.readings, seen{Reading: r, state: newState(r.At, r.Kind, l), gain: gains(r.Part, l), model: l})
	}
	if len(faults) > 0 {
		return nil, faults
	}
	d.solve()
	return d, nil
}

func refuse(r Reading, l Levels) (fault.Fault, bool) {
	switch {
	case r.At.IsZero():
		return fault.Fault{Text: "a reading of daylight needs its clock time"}, true
	case !(r.Lux > 0) || math.IsInf(float64(r.Lux), 0):
		return fault.Fault{Text: "a reading of daylight is above 0", Read: r.Lux.String()}, true
	case r.Part == Direct && l.Direct == 0:
		return fault.Fault{Text: "a reading of the sun needs a sun", Read: r.Kind.String(),
			Hint: "name the sky by its shadows, or check the time"}, true
	}
	return fault.Fault{}, false
}

func newState(at time.Time, k Kind, l Levels) state {
	return state{at, k, [2]float64{float64(l.Interval.Direct) / halfWidths, float64(l.Interval.Diffuse) / halfWidths}}
}

// together returns the covariance of sun and of sky at two instants, stops².
func together(a, b *state) (c [2]float64) {
	apart := math.Abs(a.at.Sub(b.at).Hours())
	kept := math.Sqrt(skies[a.kind].steady * skies[b.kind].steady)
	share := kept * math.Exp(-apart/lasting.Hours())
	if a.kind == b.kind {
		share += (1 - kept) * math.Exp(-apart/passing.Hours())
	} else {
		share *= acrossKinds
	}
	return [2]float64{share * a.sd[bySun] * b.sd[bySun], share * a.sd[bySky] * b.sd[bySky]}
}

// solve finds the weights by Gauss and Newton: what sun and sky move the level on the ground by depends on what they are. Whole
// steps would swing about a reading that is stops off the model, so that half of each is taken; thirty leave nothing to see.
func (d *Day) solve() {
	n := len(d.readings)
	d.weights = make([]float64, n)
	for range 30 {
		said := make([]float64, n)
		for i := range d.readings {
			r := &d.readings[i]
			moved := d.mean(&r.state)
			now := r.model.moved(moved)
			for p, gain := range gains(r.Part, now) {
				r.gain[p] += (gain - r.gain[p]) / 2
			}
			said[i] = float64(unit.Stops(float64(r.Lux/now.part(r.Part)))) + r.gain[bySun]*moved[bySun] + r.gain[bySky]*moved[bySky]
		}
		d.root = cholesky(n, func(i, j int) float64 {
			a, b := &d.readings[i], &d.readings[j]
			c := together(&a.state, &b.state)
			value := a.gain[bySun]*b.gain[bySun]*c[bySun] + a.gain[bySky]*b.gain[bySky]*c[bySky]
			if i == j {
				value += math.Pow(float64(a.Interval)/halfWidths, 2)
			}
			return value
		})
		d.weights = back(d.root, said)
	}
}

// gains returns how many stops a part moves for a stop of the sun and of the sky.
func gains(p Part, l Levels) [2]float64 {
	switch p {
	case Direct:
		return [2]float64{1, 0}
	case Diffuse:
		return [2]float64{0, 1}
	}
	return [2]float64{l.sunShare(), 1 - l.sunShare()}
}

func (l Levels) part(p Part) unit.Lux {
	switch p {
	case Direct:
		return l.Direct
	case Diffuse:
		return l.Diffuse
	}
	return l.Global
}

// moved returns the levels with sun and sky changed by stops.
func (l Levels) moved(stops [2]float64) Levels {
	onGround := l.Global - l.Diffuse
	sun, sky := math.Exp2(stops[bySun]), math.Exp2(stops[bySky])
	l.Direct *= unit.Lux(sun)
	l.Diffuse *= unit.Lux(sky)
	l.Global = l.Diffuse + onGround*unit.Lux(sun)
	return l
}

// mean returns the stops that sun and sky are moved by at an instant.
func (d *Day) mean(at *state) (moved [2]float64) {
	for i := range d.readings {
		r := &d.readings[i]
		c := together(at, &r.state)
		for p := range moved {
			moved[p] += c[p] * r.gain[p] * d.weights[i]
		}
	}
	return moved
}

// LevelsAt returns the corrected levels at an instant under a kind of sky, with the half-widths that are left.
func (d *Day) LevelsAt(t time.Time, k Kind) Levels {
	model := d.model(t, k)
	at := newState(t, k, model)
	var cross [2][]float64
	for p := range cross {
		cross[p] = make([]float64, len(d.readings))
		for i := range d.readings {
			r := &d.readings[i]
			cross[p][i] = together(&at, &r.state)[p] * r.gain[p]
		}
	}
	sunSky := -dot(cross[bySun], back(d.root, cross[bySky]))
	left := [2]float64{}
	for p := range left {
		left[p] = max(0, at.sd[p]*at.sd[p]-dot(cross[p], back(d.root, cross[p])))
	}
	l := model.moved(d.mean(&at))
	w := l.sunShare()
	l.Interval.Direct = unit.Stop(halfWidths * math.Sqrt(left[bySun]))
	l.Interval.Diffuse = unit.Stop(halfWidths * math.Sqrt(left[bySky]))
	l.Interval.Global = unit.Stop(halfWidths * math.Sqrt(max(0, w*w*left[bySun]+(1-w)*(1-w)*left[bySky]+2*w*(1-w)*sunSky)))
	return l
}

// cholesky returns the lower triangle L with L·Lᵀ equal to a positive definite matrix.
func cholesky(n int, at func(i, j int) float64) [][]float64 {
	l := make([][]float64, n)
	for i := range l {
		l[i] = make([]float64, i+1)
		for j := range l[i] {
			rest := at(i, j) - dot(l[i][:j], l[j][:j])
			if i == j {
				l[i][i] = math.Sqrt(rest)
			} else {
				l[i][j] = rest / l[j][j]
			}
		}
	}
	return l
}

// back solves L·Lᵀ·x = b.
func back(l [][]float64, b []float64) []float64 {
	x := append([]float64(nil), b...)
	for i := range l {
		x[i] = (x[i] - dot(l[i][:i], x[:i])) / l[i][i]
	}
	for i := len(l) - 1; i >= 0; i-- {
		for j := i + 1; j < len(l); j++ {
			x[i] -= l[j][i] * x[j]
		}
		x[i] /= l[i][i]
	}
	return x
}

func dot(a, b []float64) (sum float64) {
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}
