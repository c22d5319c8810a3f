package solve

import "math"

// columns is a kit made linear: how far each alternative at full output moves each target's miss, as its stops are near
// reference levels. Targets that bind both ways are gathered into normal equations, from which those of a choice are
// picked without a sum; those that bind one way stay rows. It orders choices for a shortlist, which is then solved in
// stops. Misses are natural logarithms here, ln 2 times the stops.
type columns struct {
	n           int       // columns: of the exposure, then each position's alternatives
	first       []int     // by position: its first column
	gram, mixed []float64 // products of two columns; of a column and the constant
	constant    float64
	one         [][]float64 // rows that bind one way, by column, then the constant: met up to 0
	low, high   []float64
	within      float64 // sum at which the targets that bind both ways are about met
}

// reference is near what levels the linear misses hold, in lux: of a target's point and of what that is measured over.
type reference struct{ level, over float64 }

// line is one miss: coefficients by column, then the constant.
type line struct {
	of     []float64
	weight float64
	oneWay bool
}

// newColumns makes a kit linear near references, by target and condition; without them, near levels that are as wanted.
func newColumns(k *Kit, near []reference) *columns {
	c := &columns{n: 1, low: []float64{math.Exp2(-float64(k.Exposure.High))}, high: []float64{math.Exp2(-float64(k.Exposure.Low))}}
	for i := range k.Positions {
		c.first = append(c.first, c.n)
		for j := range k.Positions[i].Alternatives {
			a := &k.Positions[i].Alternatives[j]
			low, high := 1., 1.
			if a.By != nil {
				low, high = a.Lamp.output(a.Lamp.Min), a.Lamp.output(a.Lamp.Max)
				if a.Lamp.CanBeOff {
					low = 0
				}
			}
			c.low, c.high = append(c.low, low), append(c.high, high)
			c.n++
		}
	}
	c.gram, c.mixed = make([]float64, c.n*c.n), make([]float64, c.n)
	for i := range k.Targets {
		if k.lightless(i) {
			continue
		}
		for condition := range k.Conditions {
			var at reference
			if near != nil {
				at = near[i*len(k.Conditions)+condition]
			}
			for _, l := range c.lines(k, &k.Targets[i], condition, at) {
				c.add(l)
			}
		}
		if t := &k.Targets[i]; len(t.Across) == 0 && t.Sense == At {
			edge := float64(t.Tolerance) * math.Ln2 * t.weight()
			c.within += edge * edge / 3 * float64(len(k.Conditions)) // the mean over the tolerance
		}
	}
	return c
}

// lightless reports whether a target's point is dark whatever is chosen: it then tells no choice from another.
func (k *Kit) lightless(target int) bool {
	t := &k.Targets[target]
	if len(t.Across) > 0 {
		return false
	}
	for c := range k.Conditions {
		if k.Points[t.Point].Ambient[c]+k.Points[t.Point].Fixed > 0 {
			return false
		}
	}
	for i := range k.Positions {
		for j := range k.Positions[i].Alternatives {
			a := &k.Positions[i].Alternatives[j]
			if a.By != nil && a.By[t.Point] > 0 || len(a.Adds) > 0 && a.Adds[0][t.Point] > 0 {
				return false
			}
		}
	}
	return true
}

// level returns a point's light by column, then what is there, in lux.
func (c *columns) level(k *Kit, point, condition int, ambientOnly bool) []float64 {
	of := make([]float64, c.n+1)
	for i := range k.Positions {
		for j := range k.Positions[i].Alternatives {
			switch a := &k.Positions[i].Alternatives[j]; {
			case a.By != nil && !ambientOnly:
				of[c.first[i]+j] = float64(a.By[point])
			case a.Adds != nil:
				of[c.first[i]+j] = float64(a.Adds[condition][point])
			}
		}
	}
	of[c.n] = float64(k.Points[point].Ambient[condition])
	if !ambientOnly {
		of[c.n] += float64(k.Points[point].Fixed)
	}
	return of
}

// typical returns a level with the mean of each position's alternatives at half their reach.
func (c *columns) typical(level []float64) float64 {
	sum := level[c.n]
	for i, first := range c.first {
		end := c.n
		if i+1 < len(c.first) {
			end = c.first[i+1]
		}
		for j := first; j < end; j++ {
			sum += level[j] * (c.low[j] + c.high[j]) / 2 / float64(end-first)
		}
	}
	return sum
}

// lines returns the misses of a target in a condition.
func (c *columns) lines(k *Kit, t *Target, condition int, near reference) []line {
	if len(t.Across) > 0 {
		return c.across(k, t, condition)
	}
	over := make([]float64, c.n+1)
	switch t.Over {
	case OverKey:
		over[0] = float64(k.Key)
	case OverAmbient:
		over = c.level(k, t.Point, condition, true)
	default:
		over = c.level(k, t.Over, condition, false)
	}
	wanted, sign := t.Wanted, 1.
	switch t.Sense {
	case AtLeast:
		wanted, sign = wanted-t.Tolerance, -1
	case AtMost:
		wanted += t.Tolerance
	}
	if near.over == 0 {
		near.over = c.typical(over) + over[0]
		near.level = near.over * wanted.Factor()
	}
	return []line{c.between(c.level(k, t.Point, condition, false), over, wanted.Factor(), sign, near, t)}
}

// between returns sign·ln(level/(ratio·over)) as it is near the reference.
func (c *columns) between(level, over []float64, ratio, sign float64, near reference, t *Target) line {
	l := line{of: make([]float64, c.n+1), weight: t.weight(), oneWay: t.Sense != At || len(t.Across) > 0}
	if near.level > 0 && near.over > 0 {
		for j := range l.of {
			l.of[j] = sign * (level[j]/near.level - over[j]/near.over)
		}
		l.of[c.n] += sign * math.Log(near.level/(ratio*near.over))
	}
	return l
}

// across holds apart the points that some alternative alone makes its brightest and its darkest: the others differ by
// less in most mixtures, and the shortlist is solved with them all.
func (c *columns) across(k *Kit, t *Target, condition int) (out []line) {
	levels := make([][]float64, len(t.Across))
	for i, point := range t.Across {
		levels[i] = c.level(k, point, condition, false)
	}
	seen := map[[2]int]bool{}
	for j := 1; j <= c.n; j++ {
		least, most := 0, 0
		for i := range levels {
			if levels[i][j] < levels[least][j] {
				least = i
			}
			if levels[i][j] > levels[most][j] {
				most = i
			}
		}
		if pair := [2]int{most, least}; most != least && !seen[pair] {
			seen[pair] = true
			ratio, dark := (t.Wanted + t.Tolerance).Factor(), c.typical(levels[least])
			out = append(out, c.between(levels[most], levels[least], ratio, 1, reference{ratio * dark, dark}, t))
		}
	}
	return out
}

func (c *columns) add(l line) {
	for j := range l.of {
		l.of[j] *= l.weight
	}
	if l.oneWay {
		c.one = append(c.one, l.of)
		return
	}
	end := l.of[c.n]
	c.constant += end * end
	for i, a := range l.of[:c.n] {
		c.mixed[i] += a * end
		for j, b := range l.of[:c.n] {
			c.gram[i*c.n+j] += a * b
		}
	}
}
