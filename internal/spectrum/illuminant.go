package spectrum

import "slices"

// The tabulated sources, 380 to 780 nm at 5 nm; what they send beyond is not worth a digit here.
var (
	illuminants = readTable("illuminants.csv")
	lamps       = readTable("lamps.csv")
)

// Illuminant returns the relative power of a tabulated source by its name: the CIE's A, B, C, D50, D55, D65, D75, E, FL1 to
// FL12 and FL3.1 to FL3.15 (fluorescent tubes), HP1 to HP5 (discharge lamps), LED-B1 to LED-B5, LED-BH1, LED-RGB1, LED-V1, LED-V2,
// ID50, ID65 (daylight indoors) [CIE15]; the tungsten and daylight of sensitometry [ISO7589]; and lamps by kind [NISTCQS].
func Illuminant(name string) (Curve, bool) {
	if name == "E" {
		return Flat(1), true
	}
	for _, t := range []Table{illuminants, lamps} {
		if values := t.column(name); values != nil {
			return Curve{nm: t.nm, value: values, zeroOutside: true}, true
		}
	}
	return Curve{}, false
}

// IlluminantNames returns the names that Illuminant knows, the CIE's first.
func IlluminantNames() []string { return slices.Concat(illuminants.Names, []string{"E"}, lamps.Names) }
