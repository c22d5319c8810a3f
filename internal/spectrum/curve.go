package spectrum

import (
	"math"
	"slices"
	"sort"

	"gloam/internal/fault"
)

// Curve is a function of wavelength (nm) given by samples and linear between them: the relative power of a source, or a
// factor from 0 to 1 (reflectance, transmittance). It never changes once made. The zero Curve is 0 everywhere.
//
// Outside its samples a power is 0 and a factor is held at its end value: an instrument that stops at 700 nm has seen no
// light beyond, but a wall does not turn black there.
type Curve struct {
	nm, value   []float64 // ascending wavelengths, one value each
	zeroOutside bool
}

// Power returns the curve of a source's relative spectral power, 0 outside its samples. Wavelengths (nm) must ascend and
// values be from 0 to 1e100; faults of kind Input say what is wrong. It panics when the lengths differ.
func Power(nm, values []float64) (Curve, error) {
	return newCurve(nm, values, brightest, true)
}

// Factor returns the curve of a reflectance or transmittance, held outside its samples. It demands what Power demands,
// and values of at most 1.
func Factor(nm, values []float64) (Curve, error) {
	return newCurve(nm, values, 1, false)
}

// Flat returns the same value at every wavelength. As a source it is the equal-energy illuminant E.
func Flat(value float64) Curve {
	return Curve{nm: []float64{First, Last}, value: []float64{value, value}}
}

// brightest bounds a power, in any unit, so that sums and products of curves stay finite.
const brightest = 1e100

func newCurve(nm, values []float64, most float64, zeroOutside bool) (Curve, error) {
	if len(nm) != len(values) {
		panic("spectrum: wavelengths and values differ in number")
	}
	if len(nm) == 0 {
		return Curve{}, fault.Fault{Text: "the spectrum holds no samples"}
	}
	for i := range nm {
		if math.IsNaN(nm[i]) || math.IsInf(nm[i], 0) || (i > 0 && nm[i] <= nm[i-1]) {
			return Curve{}, fault.Fault{Text: "the wavelengths of a spectrum must ascend"}
		}
		if !(values[i] >= 0 && values[i] <= most) {
			return Curve{}, fault.Fault{Text: "a value of the spectrum is out of range", Allowed: allowed(most)}
		}
	}
	return Curve{slices.Clone(nm), slices.Clone(values), zeroOutside}, nil
}

func allowed(most float64) string {
	if most == 1 {
		return "0 to 1"
	}
	return "0 to 1e100"
}

// sampled returns the curve of f at every step nm from First to Last.
func sampled(step int, f func(nm float64) float64) Curve {
	var c Curve
	for nm := First; nm <= Last; nm += step {
		c.nm = append(c.nm, float64(nm))
		c.value = append(c.value, f(float64(nm)))
	}
	return c
}

// beyond says whether a wavelength lies where the curve is 0 for want of samples.
func (c Curve) beyond(nm float64) bool {
	n := len(c.nm)
	return n == 0 || c.zeroOutside && (nm < c.nm[0] || nm > c.nm[n-1])
}

// At returns the value at a wavelength in nm.
func (c Curve) At(nm float64) float64 {
	if c.beyond(nm) {
		return 0
	}
	return c.from(sort.SearchFloat64s(c.nm, nm), nm)
}

// from returns the value at a wavelength of which sample i is the first that does not lie below it.
func (c Curve) from(i int, nm float64) float64 {
	switch {
	case i == len(c.nm):
		return c.value[i-1]
	case i == 0 || c.nm[i] == nm:
		return c.value[i]
	}
	t := (nm - c.nm[i-1]) / (c.nm[i] - c.nm[i-1])
	return c.value[i-1] + t*(c.value[i]-c.value[i-1])
}

// rising returns At for wavelengths that never fall from one call to the next, which saves looking for them.
func (c Curve) rising() func(nm float64) float64 {
	i := 0
	return func(nm float64) float64 {
		for i < len(c.nm) && c.nm[i] < nm {
			i++
		}
		if c.beyond(nm) {
			return 0
		}
		return c.from(i, nm)
	}
}

// Mul returns the product of two curves, such as a source through a gel, sampled wherever either is. Between samples it
// is linear like every Curve, so both should be sampled finely enough (5 nm or less where they bend).
func (c Curve) Mul(d Curve) Curve {
	nm := merged(c.nm, d.nm)
	nm = slices.DeleteFunc(nm, func(w float64) bool { return c.beyond(w) || d.beyond(w) })
	value := make([]float64, len(nm))
	first, second := c.rising(), d.rising()
	for i, w := range nm {
		value[i] = first(w) * second(w)
	}
	return Curve{nm, value, c.zeroOutside || d.zeroOutside}
}

// Through returns a source's power after gels over it.
func (c Curve) Through(gels ...Curve) Curve {
	for _, g := range gels {
		if v, flat := g.flat(); flat {
			if v != 1 {
				c = c.Scale(v)
			}
			continue
		}
		c = c.Mul(g)
	}
	return c
}

// flat returns the value of a curve that is the same everywhere, and whether it is.
func (c Curve) flat() (value float64, ok bool) {
	if c.zeroOutside || len(c.value) == 0 {
		return 0, false
	}
	for _, v := range c.value {
		if v != c.value[0] {
			return 0, false
		}
	}
	return c.value[0], true
}

// Same reports whether two curves are one and the same, not only alike.
func (c Curve) Same(d Curve) bool {
	return c.zeroOutside == d.zeroOutside && len(c.nm) == len(d.nm) && len(c.nm) > 0 && &c.nm[0] == &d.nm[0] && &c.value[0] == &d.value[0]
}

// IsOne reports whether a factor is 1 at every wavelength: no gel.
func (c Curve) IsOne() bool {
	v, flat := c.flat()
	return flat && v == 1
}

// merged returns the wavelengths that are in either list, ascending as they are.
func merged(a, b []float64) []float64 {
	out := make([]float64, 0, len(a)+len(b))
	for len(a) > 0 && len(b) > 0 {
		least := min(a[0], b[0])
		out = append(out, least)
		if a[0] == least {
			a = a[1:]
		}
		if b[0] == least {
			b = b[1:]
		}
	}
	return append(append(out, a...), b...)
}

// Scale returns the curve with every value multiplied by k.
func (c Curve) Scale(k float64) Curve {
	value := make([]float64, len(c.value))
	for i, v := range c.value {
		value[i] = k * v
	}
	return Curve{c.nm, value, c.zeroOutside}
}

// Add returns the sum of two curves, sampled wherever either is.
func (c Curve) Add(d Curve) Curve {
	nm := merged(c.nm, d.nm)
	value := make([]float64, len(nm))
	first, second := c.rising(), d.rising()
	for i, w := range nm {
		value[i] = first(w) + second(w)
	}
	return Curve{nm, value, c.zeroOutside && d.zeroOutside}
}

// SampledAs returns a source's power at the wavelengths at which another is integrated, so that what the sum costs is the same
// in both and cancels where they are compared.
func (c Curve) SampledAs(other Curve) Curve {
	f := Curve{nm: other.grid(coarsest), zeroOutside: true}
	for _, nm := range f.nm {
		f.value = append(f.value, c.At(nm))
	}
	return f
}

// Fine returns a source's power from 360 to 830 nm with samples added along its straight lines until none lie more than
// 1 nm apart.
func (c Curve) Fine() Curve {
	f := Curve{nm: c.grid(1), zeroOutside: c.zeroOutside}
	for _, nm := range f.nm {
		f.value = append(f.value, c.At(nm))
	}
	return f
}
