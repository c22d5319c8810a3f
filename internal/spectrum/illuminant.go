package spectrum

import "slices"

// illuminants holds the tabulated CIE illuminants, 380 to 780 nm at 5 nm; what they send beyond is not worth a digit here.
var illuminants = readTable("illuminants.csv")

// Illuminant returns the relative power of a CIE illuminant by its name: A, C, D50, D55, D65, D75, E, F1 to F12, LED-B1 to
// LED-B5, LED-BH1, LED-RGB1, LED-V1, LED-V2 [CIE15]. F1 to F12 are fluorescent tubes.
func Illuminant(name string) (Curve, bool) {
	if name == "E" {
		return Flat(1), true
	}
	values := illuminants.column(name)
	return Curve{nm: illuminants.nm, value: values, zeroOutside: true}, values != nil
}

// IlluminantNames returns the names that Illuminant knows, in the order of the standard.
func IlluminantNames() []string {
	return append(slices.Clone(illuminants.names), "E")
}
