package spectrum

import "math"

// The CIE's colour-matching functions x̄, ȳ, z̄ from First to Last: of 2° at 1 nm, of 10° at 5 nm [CIE15].
var (
	cie1931 = readTable("cie1931.csv")
	cie1964 = readTable("cie1964.csv")
)

// Observer1931 returns x̄, ȳ, z̄ of the CIE 1931 2° observer.
func Observer1931() [3]Curve { return matching(cie1931) }

// Observer1964 returns x̄, ȳ, z̄ of the CIE 1964 10° observer.
func Observer1964() [3]Curve { return matching(cie1964) }

func matching(t Table) [3]Curve {
	var m [3]Curve
	for k := range m {
		m[k] = Curve{nm: t.nm, value: t.columns[k], zeroOutside: true}
	}
	return m
}

// observer returns the 2° functions at a wavelength (nm) from First to Last, linear between 1 nm values.
func observer(nm float64) (x, y, z float64) {
	i := min(int(math.Floor(nm))-First, Last-First-1)
	t := nm - float64(First+i)
	at := func(column []float64) float64 { return column[i] + t*(column[i+1]-column[i]) }
	return at(cie1931.columns[0]), at(cie1931.columns[1]), at(cie1931.columns[2])
}
