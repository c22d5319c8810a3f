package solve

import "math"

// slope fills s with how a row goes with each lamp, in stops for a share of full output.
func (d *descent) slope(r *row, s []float64) {
	clear(s)
	d.addSlope(s, r.over, 1)
	if r.under >= 0 {
		d.addSlope(s, r.under, -1)
	}
}

// addSlope adds how a cell's log2 goes with each lamp.
func (d *descent) addSlope(s []float64, cell int, sign float64) {
	k := sign / (d.level[cell] * math.Ln2)
	for j, a := range d.full[cell%len(d.points)*d.lamps:][:len(s)] {
		s[j] += k * a
	}
}

// linearise makes the normal equations of the misses around x, in the light as last found; their solution is the next x.
func (d *descent) linearise() {
	n := d.variables
	clear(d.g)
	clear(d.h)
	d.stacked = d.stacked[:0]
	for i := range d.rows {
		r := &d.rows[i]
		v := d.of(r, d.x)
		e, k := r.miss(v), 0.
		if e != 0 {
			k = 1
		}
		if !r.one {
			e += pull * (v - r.wanted)
			k += pull
		}
		if k != 0 {
			d.addRow(r, e, k)
		}
	}
	d.multiply()
	if d.exposure >= 0 {
		d.g[d.exposure*n+d.exposure] += pull
	}
	for j := range d.lamps {
		d.g[j*n+j] += thrift
	}
	d.mirror()
}

// addRow adds a row that is off by e, of which k is what a stop of its level adds, to the normal equations; the products
// of lamps wait, stacked. Beside the lamps it has one variable at most.
func (d *descent) addRow(r *row, e, k float64) {
	s := d.slopes[len(d.stacked)*d.lamps:][:d.lamps]
	d.stacked = append(d.stacked, r.weight*r.weight*k)
	d.slope(r, s)
	at := 0.
	for j, x := range d.x[:len(s)] {
		at += s[j] * x
	}
	w := r.weight * r.weight
	if r.shift >= 0 {
		at += r.sign * d.x[r.shift]
		d.h[r.shift] += w * (k*at - e) * r.sign
		g := d.g[r.shift*d.variables:]
		for l, sl := range s {
			g[l] += w * k * r.sign * sl
		}
		g[r.shift] += w * k
	}
	pulls := w * (k*at - e)
	for j, sj := range s {
		d.h[j] += pulls * sj
	}
}

// multiply adds the products of lamps of the stacked rows to the lower half of the normal equations, four rows at a time: one by
// one they would take twice as long.
func (d *descent) multiply() {
	const together = 4
	for len(d.stacked)%together != 0 {
		clear(d.slopes[len(d.stacked)*d.lamps:][:d.lamps])
		d.stacked = append(d.stacked, 0)
	}
	for i := 0; i < len(d.stacked); i += together {
		var s [together][]float64
		for k := range s {
			s[k] = d.slopes[(i+k)*d.lamps:][:d.lamps]
		}
		w := d.stacked[i:][:together]
		for j := range d.lamps {
			w0, w1, w2, w3 := w[0]*s[0][j], w[1]*s[1][j], w[2]*s[2][j], w[3]*s[3][j]
			g := d.g[j*d.variables:][:j+1]
			s0, s1, s2, s3 := s[0][:len(g)], s[1][:len(g)], s[2][:len(g)], s[3][:len(g)]
			for l := range g {
				g[l] += w0*s0[l] + w1*s1[l] + w2*s2[l] + w3*s3[l]
			}
		}
	}
}

// mirror copies the lower half of the normal equations to the upper.
func (d *descent) mirror() {
	n := d.variables
	for j := range n {
		for l, g := range d.g[j*n:][:j] {
			d.g[l*n+j] = g
		}
	}
}

// relative starts x from the settings with the least squared relative misses of the rows over a constant under an
// exposure, which is a linear problem.
func (d *descent) relative(low, high []float64, exposure float64) {
	n := d.variables
	clear(d.g)
	clear(d.h)
	for i := range d.rows {
		r := &d.rows[i]
		if r.under >= 0 || r.sign < 0 || math.IsInf(r.constant, -1) {
			continue
		}
		aim := math.Exp2(r.constant + r.wanted)
		if r.shift >= 0 {
			aim *= math.Exp2(-exposure)
		}
		a := d.full[r.over%len(d.points)*d.lamps:][:d.lamps]
		lacks := aim - d.base[r.over]
		for j, aj := range a {
			part, g := r.weight/aim*r.weight/aim*aj, d.g[j*n:][:j+1]
			for l, al := range a[:len(g)] {
				g[l] += part * al
			}
			d.h[j] += part * lacks
		}
	}
	d.mirror()
	for j := range n {
		d.g[j*n+j] += thrift
	}
	for j := range d.lamps {
		d.x[j] = (low[j] + high[j]) / 2 // off its bounds, from which lamps would be freed one by one
	}
	d.box.Minimise(d.x, d.g, d.h, low, high)
	if d.exposure >= 0 {
		d.x[d.exposure] = exposure
	}
}
