package colour

import (
	"embed"

	"gloam/internal/spectrum"
)

//go:embed data
var data embed.FS

// readSamples reads an embedded table of reflectances or sensitivities. It panics when the file is not well formed, which
// only a change to it can bring about.
func readSamples(name string) []spectrum.Curve {
	text, err := data.ReadFile("data/" + name)
	if err != nil {
		panic("colour: embedded table missing")
	}
	table, err := spectrum.ReadTable(name, text)
	if err != nil {
		panic("colour: embedded table not well formed")
	}
	curves := make([]spectrum.Curve, len(table.Names))
	for i := range curves {
		if curves[i], err = table.Factor(i); err != nil {
			panic("colour: embedded table holds a value that is no factor")
		}
	}
	return curves
}

// seen returns the tristimulus values of a sample under a source to an observer, on the scale where the source's own Y is 100.
func seen(source spectrum.Curve, observer [3]spectrum.Curve, sample spectrum.Curve, sourceY float64) XYZ {
	s := spectrum.Response(source, observer, sample)
	k := 100 / sourceY
	return XYZ{k * s[0], k * s[1], k * s[2]}
}

// sourceSeen returns a source's tristimulus values to an observer, and its Y before they were scaled to 100.
func sourceSeen(source spectrum.Curve, observer [3]spectrum.Curve) (XYZ, float64) {
	s := spectrum.Response(source, observer)
	return XYZ{100 * s[0] / s[1], 100, 100 * s[2] / s[1]}, s[1]
}

// cctOf returns the correlated colour temperature (K) of a source, with CCTDuv's limits.
func cctOf(source spectrum.Curve) (float64, error) {
	cct, _, err := CCTDuv(lightXYZ(spectrum.LightOf(source)))
	return float64(cct), err
}
