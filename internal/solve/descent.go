package solve

import (
	"math"

	"gloam/internal/numeric"
)

const (
	// pull draws a level that is within its tolerance on to what is wanted, and a free exposure on to the key, at the cost
	// of next to no miss elsewhere.
	pull = 1e-4
	// thrift draws lamps down where the targets leave them free, and shares light among equals.
	thrift = 1e-7
	// steps of one descent at most; problems at random with ten lamps take 10 to 15.
	steps = 60
)

// hopeless is the cost of settings that leave a target in the dark.
const hopeless = math.MaxFloat64

// descent finds the settings with the least weighted sum of squared misses, in stops. It is the Gauss-Newton method
// inside bounds: misses are made linear, the sum is minimised in the box, and the way there is halved until it gains. A
// miss is the distance from where a target is met, so that its square is smooth. It allocates nothing once made.
type descent struct {
	*system
	box        *numeric.Bounded
	x, try, to []float64 // variables
	level, log []float64 // lux and log2 of it, by cell
	sums       []float64 // lux of the lamps, by point
	slopes     []float64 // stops for a share of full output, by stacked row and lamp
	stacked    []float64 // rows that count, by what a stop of their level adds
	g, h       []float64
	known      valley
}

// valley is settings that a descent ended in, and their cost; the zero valley is none.
type valley struct {
	x    []float64
	cost float64
}

func newDescent(s *system) *descent {
	n, cells := s.variables, len(s.base)
	vector := func(n int) []float64 { return make([]float64, n) }
	return &descent{system: s, box: numeric.NewBounded(n), x: vector(n), try: vector(n), to: vector(n), level: vector(cells), sums: vector(len(s.points)),
		log: vector(cells), slopes: vector((len(s.rows) + 3) * s.lamps), stacked: vector(len(s.rows) + 3), g: vector(n * n), h: vector(n)}
}

// light finds the level of every cell.
func (d *descent) light(x []float64) {
	points := len(d.points)
	sums := d.sums[:points]
	clear(sums)
	for j, share := range x[:d.lamps] {
		for i, a := range d.byLamp[j*points:][:len(sums)] {
			sums[i] += a * share
		}
	}
	for first := 0; first < len(d.base); first += points { // of each condition
		for i, sum := range sums {
			level := d.base[first+i] + sum
			d.level[first+i] = level
			d.log[first+i] = math.Log(level) * (1 / math.Ln2) // without math.Log2's care for powers of 2, in half the time
		}
	}
}

// of returns the row's level in stops, from the light as last found.
func (d *descent) of(r *row, x []float64) float64 {
	v := d.log[r.over] - r.constant
	if r.under >= 0 {
		v = d.log[r.over] - d.log[r.under]
	}
	if r.shift >= 0 {
		v += r.sign * x[r.shift]
	}
	return v
}

// miss returns how far a level lies outside where the row is met; dark over dark is nowhere.
func (r *row) miss(v float64) float64 {
	switch {
	case math.IsNaN(v):
		return math.Inf(1)
	case v < r.low:
		return v - r.low
	case v > r.high:
		return v - r.high
	}
	return 0
}

// cost returns the sum to be made least.
func (d *descent) cost(x []float64) float64 {
	d.light(x)
	return d.sum(x)
}

// sum is the cost in the light as last found.
func (d *descent) sum(x []float64) float64 {
	sum := 0.
	for i := range d.rows {
		r := &d.rows[i]
		v := d.of(r, x)
		e := r.miss(v)
		part := e * e
		if !r.one {
			part += pull * (v - r.wanted) * (v - r.wanted)
		}
		sum += r.weight * r.weight * part
	}
	for j := range d.lamps {
		sum += thrift * x[j] * x[j]
	}
	if d.exposure >= 0 {
		sum += pull * x[d.exposure] * x[d.exposure]
	}
	if !(sum < hopeless) {
		return hopeless
	}
	return sum
}

// run descends from x inside the bounds, and returns the cost reached and whether it came to rest. On its way into the known
// valley it stops, with that one's cost.
func (d *descent) run(low, high []float64) (cost float64, rested bool) {
	for j := range d.x {
		d.x[j] = min(max(d.x[j], low[j]), high[j])
	}
	d.light(d.x)
	d.centre(d.x)
	cost = d.sum(d.x)
	for range steps {
		d.linearise()
		copy(d.to, d.x)
		if !d.box.Minimise(d.to, d.g, d.h, low, high) {
			return cost, false
		}
		next := d.search(cost)
		if !(next < cost-1e-7*cost-1e-9) {
			return cost, true
		}
		cost = next
		if d.isNear(cost) {
			return d.known.cost, true
		}
	}
	return cost, false
}

// isNear reports whether x at a cost is on its way into the known valley. With these limits none of 16,800 problems at random
// came to a worse end than when it went all the way.
func (d *descent) isNear(cost float64) bool {
	const rise, apart = 1.3, 0.1
	if !(cost < rise*d.known.cost) {
		return false
	}
	for j, x := range d.known.x[:d.lamps] {
		if math.Abs(x-d.x[j]) > apart {
			return false
		}
	}
	return true
}

// search goes from x toward the linear minimum, halfway again as often as the cost is not below; x moves if it gains.
func (d *descent) search(cost float64) float64 {
	copy(d.try, d.to) // itself, since the sum below could round it out of the bounds
	for step := 1.; step > 1e-6; {
		if next := d.cost(d.try); next < cost {
			copy(d.x, d.try)
			return next
		}
		step /= 2
		for j := range d.x {
			d.try[j] = d.x[j] + step*(d.to[j]-d.x[j])
		}
	}
	return cost
}

// settle sets what is no lamp for the best, the middles and the exposure, and returns the cost.
func (d *descent) settle(x []float64) float64 {
	d.light(x)
	d.centre(x)
	if d.exposure >= 0 {
		d.expose(x)
	}
	return d.sum(x)
}

// centre sets each middle between the least and the greatest level of its points.
func (d *descent) centre(x []float64) {
	for _, m := range d.middles {
		least, most := math.Inf(1), math.Inf(-1)
		for i := m.first; i < m.end; i++ {
			least, most = min(least, d.log[d.rows[i].over]), max(most, d.log[d.rows[i].over])
		}
		x[m.variable] = (least + most) / 2
	}
}

// expose finds the exposure with the least cost, by Newton's method: the cost is made of pieces of parabolas, and a few
// steps find the right piece.
func (d *descent) expose(x []float64) {
	for range 6 {
		fall, bend := -pull*x[d.exposure], pull
		for i := range d.rows {
			r := &d.rows[i]
			if r.shift != d.exposure {
				continue
			}
			v, w := d.of(r, x), r.weight*r.weight
			if e := r.miss(v); e != 0 {
				fall, bend = fall-w*e, bend+w
			}
			if !r.one {
				fall, bend = fall-w*pull*(v-r.wanted), bend+w*pull
			}
		}
		if step := fall / bend; !math.IsInf(step, 0) && !math.IsNaN(step) {
			x[d.exposure] = min(max(x[d.exposure]+step, d.low[d.exposure]), d.high[d.exposure])
		}
	}
}
