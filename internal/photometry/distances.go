package photometry

import (
	"fmt"
	"math"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

// LuxAt is one row of a data sheet or one meter reading on the axis, facing the lamp; the distance is from its front.
type LuxAt struct {
	Distance unit.Metre
	Lux      unit.Lux
}

// What a fit may yield. A source seems further behind the front than a hundred times the longest distance only where
// the rows do not fall off at all; rows half a stop off their own curve are no data.
const (
	farthestOffset = 100            // times the longest distance
	nearestOffset  = 0.9            // of the shortest distance, in front of the lamp
	worstFit       = unit.Stop(0.5) // rms
)

// FitDistances fits E = I/(d+s)² to the rows by least squares in log E: peak is I, offset is s, how far behind the front
// the apparent source lies (a lens or a deep dish does not obey the inverse square from its front), rms what is left, in
// stops. One row is the plain inverse square; two fit exactly and leave nothing to judge them by. Negative offsets, an
// image in front of the lamp, reach to 0.9 of the shortest distance. The error, a fault.List, refuses rows that are
// impossible, do not fall off with distance, or stray from the curve by more than half a stop rms.
func FitDistances(rows []LuxAt) (peak unit.Candela, offset unit.Metre, rms unit.Stop, err error) {
	near, far, faults := checkRows(rows)
	if err := faults.Err(); err != nil {
		return 0, 0, 0, err
	}
	if near < far {
		// Searched on a log scale of the shortest distance to the apparent source, where the misfit has one valley.
		low, high := math.Log((1-nearestOffset)*near), math.Log(near+farthestOffset*far)
		best := lowest(low, high, func(x float64) float64 { _, m := misfit(rows, math.Exp(x)-near); return m })
		if best-low < 1e-6 || high-best < 1e-6 {
			return 0, 0, 0, fault.List{{Text: "the levels do not fall off with distance as any lamp's do",
				Allowed: "levels that follow I/(d+s)², s being how far behind the front the light seems to come from"}}
		}
		offset = unit.Metre(math.Exp(best) - near)
	}
	mean, m := misfit(rows, float64(offset))
	rms = unit.Stop(math.Sqrt(m) / math.Ln2)
	if rms > worstFit {
		return 0, 0, 0, fault.List{{Text: "the levels do not lie on one curve", Read: fmt.Sprintf("%.2f stops rms", rms),
			Allowed: fmt.Sprintf("up to %g stops", worstFit), Hint: "look for a row in other units or at another setting"}}
	}
	return unit.Candela(math.Exp(mean)), offset, rms, nil
}

// checkRows returns the shortest and longest distance in metres, and every row that is impossible.
func checkRows(rows []LuxAt) (near, far float64, faults fault.List) {
	if len(rows) == 0 {
		return 0, 0, fault.List{{Text: "no level at any distance is given"}}
	}
	near = math.Inf(1)
	for i, r := range rows {
		path := fmt.Sprintf("row %d", i+1)
		if d := float64(r.Distance); !(d > 0 && d < 1e6) {
			faults = append(faults, fault.Fault{Path: path, Text: "the distance is not possible", Read: fmt.Sprintf("%g m", d), Allowed: "above 0 m"})
		}
		if e := float64(r.Lux); !(e > 0 && e < 1e12) {
			faults = append(faults, fault.Fault{Path: path, Text: "the level is not possible", Read: fmt.Sprintf("%g lx", e), Allowed: "above 0 lx"})
		}
		near, far = math.Min(near, float64(r.Distance)), math.Max(far, float64(r.Distance))
	}
	return near, far, faults
}

// misfit returns the mean of ln(E·(d+s)²) and the variance about it.
func misfit(rows []LuxAt, s float64) (mean, variance float64) {
	log := func(r LuxAt) float64 { return math.Log(float64(r.Lux)) + 2*math.Log(float64(r.Distance)+s) }
	n := float64(len(rows))
	for _, r := range rows {
		mean += log(r) / n
	}
	for _, r := range rows {
		variance += (log(r) - mean) * (log(r) - mean) / n
	}
	return mean, variance
}

// lowest returns where f is least between low and high: the best of 400 steps, then golden sections about it.
func lowest(low, high float64, f func(float64) float64) float64 {
	const steps = 400
	at := func(i int) float64 { return low + (high-low)*float64(i)/steps }
	best := 0
	for i := 1; i <= steps; i++ {
		if f(at(i)) < f(at(best)) {
			best = i
		}
	}
	a, b := at(max(best-1, 0)), at(min(best+1, steps))
	golden := (math.Sqrt(5) - 1) / 2
	for b-a > 1e-10 {
		x, y := b-golden*(b-a), a+golden*(b-a)
		if f(x) < f(y) {
			b = y
		} else {
			a = x
		}
	}
	return (a + b) / 2
}
