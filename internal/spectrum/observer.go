package spectrum

import "math"

// cie1931 holds the CIE 1931 2° colour-matching functions at 1 nm from First to Last [CIE15].
var cie1931 = readTable("cie1931.csv")

// observer returns the colour-matching functions x̄, ȳ, z̄ at a wavelength (nm) from First to Last, linear between 1 nm values.
func observer(nm float64) (x, y, z float64) {
	i := min(int(math.Floor(nm))-First, Last-First-1)
	t := nm - float64(First+i)
	at := func(column []float64) float64 { return column[i] + t*(column[i+1]-column[i]) }
	return at(cie1931.columns[0]), at(cie1931.columns[1]), at(cie1931.columns[2])
}
