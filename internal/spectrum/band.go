package spectrum

// Bands is how many spectral bands light is carried in.
const Bands = 8

// First and Last bound the wavelengths (nm) of every integral here: light outside them does not count.
const First, Last = 380, 780

// Band holds one number a band: a reflectance, a transmittance, a response.
type Band [Bands]float64

// Edges holds the wavelengths (nm) between which the bands lie: band b from Edges[b] to Edges[b+1].
var Edges = [Bands + 1]float64{First, 432.5, 467.5, 502.5, 542.5, 577.5, 607.5, 647.5, Last}

// Mul returns the product band by band.
func (b Band) Mul(o Band) Band {
	for i := range b {
		b[i] *= o[i]
	}
	return b
}

// Scale returns every band multiplied by k.
func (b Band) Scale(k float64) Band {
	for i := range b {
		b[i] *= k
	}
	return b
}

// Dot returns the sum over bands of the product: the level of a response R under a Light l is R.Dot(l.Y).
func (b Band) Dot(o Band) float64 {
	sum := 0.0
	for i := range b {
		sum += b[i] * o[i]
	}
	return sum
}

// BandMean returns the mean of a factor over each band, weighted by the sum of the colour-matching functions under an
// equal-energy source.
func BandMean(c Curve) Band {
	var sum, weight Band
	c.cells(func(nm, value, width float64, band int) {
		x, y, z := observer(nm)
		w := width * (x + y + z)
		sum[band] += w * value
		weight[band] += w
	})
	for b := range sum {
		sum[b] /= weight[b]
	}
	return sum
}

// coarsest is the widest gap (nm) between samples over which a curve is integrated as it stands. The CIE's tables at 5 nm
// are summed at 5 nm, as their published chromaticities are; wider gaps are filled at 1 nm or finer.
const coarsest = 5

// grid returns the wavelengths at which c is integrated: its own samples in the visible range, the range's two ends, and
// more where these lie wide apart.
func (c Curve) grid() []float64 {
	nodes := []float64{First}
	add := func(nm float64) {
		from := nodes[len(nodes)-1]
		if gap := nm - from; gap > coarsest {
			parts := int(gap) + 1
			for i := 1; i < parts; i++ {
				nodes = append(nodes, from+gap*float64(i)/float64(parts))
			}
		}
		nodes = append(nodes, nm)
	}
	for _, nm := range c.nm {
		if nm > First && nm < Last {
			add(nm)
		}
	}
	add(Last)
	return nodes
}

// cells calls f for every cell of c's grid: the wavelength, the value there, the width (nm) of the cell, which reaches half
// way to either neighbour (trapezoidal rule), and the band. A cell across an edge is shared between the bands.
func (c Curve) cells(f func(nm, value, width float64, band int)) {
	nodes := c.grid()
	band, low := 0, nodes[0]
	for i, nm := range nodes {
		high := nm
		if i+1 < len(nodes) {
			high = (nm + nodes[i+1]) / 2
		}
		value := c.At(nm)
		for ; Edges[band+1] < high; band++ {
			f(nm, value, Edges[band+1]-low, band)
			low = Edges[band+1]
		}
		f(nm, value, high-low, band)
		low = high
	}
}
