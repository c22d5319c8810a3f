package solve

import "math"

// slope fills slopes for a row.
func (d *descent) slope(r *row) {
	points := len(d.points)
	clear(d.slopes)
	add := func(cell int, sign float64) {
		k := sign / (d.level[cell] * math.Ln2)
		for j, a := range d.full[cell%points*d.lamps:][:d.lamps] {
			d.slopes[j] += k * a
		}
	}
	add(r.over, 1)
	if r.under >= 0 {
		add(r.under, -1)
	}
	if r.shift >= 0 {
		d.slopes[r.shift] = r.sign
	}
}

// linearise makes the normal equations of the misses around x; their solution is the next x.
func (d *descent) linearise() {
	n := d.variables
	clear(d.g)
	clear(d.h)
	d.light(d.x)
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
		if k == 0 {
			continue
		}
		d.slope(r)
		at := 0.
		for j, s := range d.slopes {
			at += s * d.x[j]
		}
		w := r.weight * r.weight
		for j, s := range d.slopes {
			if s == 0 {
				continue
			}
			d.h[j] += w * s * (k*at - e)
			for l := range j + 1 {
				d.g[j*n+l] += w * k * s * d.slopes[l]
			}
		}
	}
	if d.exposure >= 0 {
		d.g[d.exposure*n+d.exposure] += pull
	}
	for j := range n {
		if j < d.lamps {
			d.g[j*n+j] += thrift
		}
		for l := range j {
			d.g[l*n+j] = d.g[j*n+l]
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
		for j := range a {
			for l := range a {
				d.g[j*n+l] += r.weight * r.weight * a[j] * a[l] / (aim * aim)
			}
			d.h[j] += r.weight * r.weight * a[j] / aim * (1 - d.base[r.over]/aim)
		}
	}
	for j := range n {
		d.g[j*n+j] += thrift
	}
	d.box.Minimise(d.x, d.g, d.h, low, high)
	if d.exposure >= 0 {
		d.x[d.exposure] = exposure
	}
}
