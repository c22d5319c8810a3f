package spectrum

import (
	"sync"

	"gloam/internal/unit"
)

// BandMean returns the numbers that stand for a factor in the bands: for each band a mean weighted by x̄+4ȳ+z̄ under equal
// energy, corrected so that light reflected once gets the right tristimulus values under white sources.
//
// A plain mean errs since no one weight suits every source and every colour-matching function. The correction is the
// least-squares change of the eight numbers (with a ridge toward none) that makes X, Y and Z of the factor come out right
// under fourteen whites: see whites. It is linear in the factor, so it is done once, as a weight of each wavelength in each
// band; a flat factor keeps its value exactly. Results are kept within 0 to 1. See Edges for the error that is left.
func BandMean(c Curve) Band {
	weights := kernel()
	var b Band
	for i := range Last - First + 1 {
		value := c.At(float64(First + i))
		for k := range b {
			b[k] += weights[k][i] * value
		}
	}
	for k := range b {
		b[k] = min(max(b[k], 0), 1)
	}
	return b
}

// bandWeights holds, for each band, the weight of the factor at each nm from First.
type bandWeights [Bands][Last - First + 1]float64

// ridge keeps the correction of BandMean small where the whites do not ask for it. Chosen with the edges.
const ridge = 3e-3

// whites returns the sources under which BandMean is fitted and the weight of each: what stands on a set or comes through
// its windows. Two tubes with strong lines stand in for all such.
func whites() (sources []Curve, weights []float64) {
	for _, k := range []unit.Kelvin{2700, 3200, 4300, 5600, 7500, 10000} {
		sources, weights = append(sources, Planck(k)), append(weights, 1)
	}
	for _, w := range []struct {
		name   string
		weight float64
	}{{"D55", 1}, {"D75", 1}, {"FL2", 1}, {"FL11", 1}, {"LED-B1", 0.3}, {"LED-B3", 0.3}} {
		c, _ := Illuminant(w.name)
		sources, weights = append(sources, c), append(weights, w.weight)
	}
	return sources, weights
}

var kernel = sync.OnceValue(func() *bandWeights {
	plain := plainMeans()
	// Normal equations of the ridge regression: (Σ w·L·Lᵀ + ridge·1)·change = Σ w·L·(t - L·plain), where L holds what
	// unit factor in each band is worth and t what it is worth at each wavelength.
	var normal [Bands][Bands]float64
	var right bandWeights
	for b := range normal {
		normal[b][b] = ridge
	}
	sources, weights := whites()
	for s, source := range sources {
		for _, t := range perNanometre(source) {
			l := inBands(t)
			for i := range t {
				miss := t[i] - l.Dot(plain.at(i))
				for b := range l {
					right[b][i] += weights[s] * l[b] * miss
				}
			}
			for a := range l {
				for b := range l {
					normal[a][b] += weights[s] * l[a] * l[b]
				}
			}
		}
	}
	eliminate(&normal, &right)
	for b := range plain {
		for i := range plain[b] {
			plain[b][i] += right[b][i]
		}
	}
	return &plain
})

// at returns the weights of one nm.
func (w *bandWeights) at(i int) Band {
	var b Band
	for k := range b {
		b[k] = w[k][i]
	}
	return b
}

// plainMeans returns the weights of the mean over each band by x̄+4ȳ+z̄ under equal energy.
func plainMeans() bandWeights {
	var w bandWeights
	var sum Band
	Flat(1).cells(func(nm, _, width float64, band int) {
		x, y, z := observer(nm)
		v := width * (x + 4*y + z)
		w[band][int(nm)-First] += v
		sum[band] += v
	})
	for b := range w {
		for i := range w[b] {
			w[b][i] /= sum[b]
		}
	}
	return w
}

// perNanometre returns what a factor at each nm is worth in X, Y and Z under a source whose Y is 1. The whites are sampled at
// whole nm, and only there is a factor worth anything.
func perNanometre(source Curve) [3][Last - First + 1]float64 {
	var t [3][Last - First + 1]float64
	total := luminance(source)
	source.cells(func(nm, value, width float64, _ int) {
		x, y, z := observer(nm)
		power := value * width / total
		for k, m := range [3]float64{x, y, z} {
			t[k][int(nm)-First] += power * m
		}
	})
	return t
}

// inBands sums values at each nm into their bands. No whole nm lies on an edge.
func inBands(t [Last - First + 1]float64) Band {
	var b Band
	band := 0
	for i, v := range t {
		for float64(First+i) > Edges[band+1] {
			band++
		}
		b[band] += v
	}
	return b
}

// eliminate solves normal·x = right for every column of right, in place, by Gauss-Jordan elimination; normal is symmetric
// positive definite, so no pivoting is needed.
func eliminate(normal *[Bands][Bands]float64, right *bandWeights) {
	for p := range normal {
		pivot := normal[p][p]
		for c := range normal[p] {
			normal[p][c] /= pivot
		}
		for i := range right[p] {
			right[p][i] /= pivot
		}
		for r := range normal {
			f := normal[r][p]
			if r == p || f == 0 {
				continue
			}
			for c := range normal[r] {
				normal[r][c] -= f * normal[p][c]
			}
			for i := range right[r] {
				right[r][i] -= f * right[p][i]
			}
		}
	}
}
