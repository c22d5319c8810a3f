package solve

// descend finds the sum of squared relative misses of the choice, variable by variable from where the last choice ended.
// It gives up when the sum can't come under what would make the score too high.
func (w *walker) descend(room float64) (sum float64, ok bool) {
	n, c := len(w.column), w.columns
	limit := c.within + room/dear
	for i := range n {
		s := w.mixed[i]
		for j, g := range w.gram[i*n : i*n+n] {
			s += g * w.x[j]
		}
		w.slope[i] = s
	}
	for range sweeps {
		gain := 0.
		for i, column := range w.column {
			old := w.x[i]
			x := min(max(old-w.slope[i]*w.steep[i], c.low[column]), c.high[column])
			if x == old {
				continue
			}
			d := x - old
			gain -= d * (2*w.slope[i] + d*w.gram[i*n+i])
			w.x[i] = x
			for j, g := range w.gram[i*n : i*n+n] {
				w.slope[j] += d * g
			}
		}
		sum = c.constant
		bound := 0. // how much the sum can still fall, since it is convex
		for i, column := range w.column {
			s := w.slope[i]
			sum += w.x[i] * (w.mixed[i] + s)
			bound += 2 * max(s*(w.x[i]-c.low[column]), s*(w.x[i]-c.high[column]))
		}
		if sum-bound > limit {
			return sum, false
		}
		if gain <= 1e-3*sum+1e-7 {
			break
		}
	}
	if len(c.one) > 0 && sum <= limit { // rows can only add
		sum = w.descendRows(sum)
	}
	return sum, sum <= limit
}

// descendRows goes on with the rows that bind one way, which count only where they are missed.
func (w *walker) descendRows(sum float64) float64 {
	n, c := len(w.column), w.columns
	for k, row := range c.one {
		v := row[c.n]
		for i, column := range w.column {
			v += row[column] * w.x[i]
		}
		w.rows[k] = v
	}
	before := sum + w.missed()
	for range sweeps {
		if before == sum {
			return sum
		}
		for i, column := range w.column {
			fall, bend := w.slope[i], w.gram[i*n+i]
			for k, v := range w.rows {
				if v > 0 {
					a := c.one[k][column]
					fall, bend = fall+v*a, bend+a*a
				}
			}
			if bend == 0 {
				continue
			}
			d := min(max(w.x[i]-fall/bend, c.low[column]), c.high[column]) - w.x[i]
			if d == 0 {
				continue
			}
			w.x[i] += d
			for j, g := range w.gram[i*n : i*n+n] {
				w.slope[j] += d * g
			}
			for k := range w.rows {
				w.rows[k] += d * c.one[k][column]
			}
		}
		sum = c.constant
		for i := range w.column {
			sum += w.x[i] * (w.mixed[i] + w.slope[i])
		}
		now := sum + w.missed()
		if before-now <= 1e-3*now+1e-7 {
			return now
		}
		before = now
	}
	return before
}

// missed returns the sum of the squared misses of the rows that bind one way.
func (w *walker) missed() (sum float64) {
	for _, v := range w.rows {
		if v > 0 {
			sum += v * v
		}
	}
	return sum
}
