package spectrum

import "gloam/internal/unit"

// material is a row of the table: a luminous reflectance and either a measured shape (a column of reflectances.csv) or, where
// shape is empty, a tuned one that moves daylight (D65) by shift mired and duv, flat where both are 0.
type material struct {
	name     string
	luminous unit.Fraction
	shape    string
	shift    unit.Mired
	duv      float64
	source   string
}

const (
	practice = "common practice, no source"
	memory   = "from memory"
)

// materials holds the named surfaces. Levels marked as ranges vary in nature by 30 % and more: measure with a grey card.
var materials = []material{
	{"snow", 0.85, "", 0, 0, "fresh, luminous 0.80 to 0.95; shape " + memory},
	{"grass", 0.12, "leaf", 0, 0, "luminous 0.08 to 0.15, " + practice + "; shape of CIE 13.3 sample 14 (leaf)"},
	{"sand", 0.40, "", 40, 0, "dry, luminous 0.35 to 0.45; shape " + memory},
	{"soil", 0.10, "", 50, 0, memory + ", luminous 0.05 (loam) to 0.38 (clay)"},
	{"water", 0.08, "", 0, 0, practice + ", as a matt share of the light; a mirror image is not in it"},
	{"concrete", 0.25, "", 8, 0, "dry, luminous 0.17 to 0.33; shape " + memory},
	{"asphalt", 0.08, "", 5, 0, "dry, luminous 0.04 to 0.12; shape " + memory},
	{"wet asphalt", 0.04, "", 5, 0, "one stop under dry, " + practice},
	{"brick", 0.25, "", 110, -0.004, "luminous 0.20 to 0.30, shape " + memory},
	{"stone", 0.30, "", 12, 0, memory},
	{"plaster", 0.75, "", 6, 0, memory},
	{"white paint", 0.85, "white", 0, 0, "matt, luminous 0.80 to 0.90, " + memory + "; shape of a chart patch (Ohta 1997)"},
	{"light wood", 0.45, "", 60, 0, "luminous 0.35 to 0.55, " + memory},
	{"dark wood", 0.15, "", 80, 0, "luminous 0.10 to 0.20, " + memory},
	{"white cloth", 0.80, "", 0, 0, practice + ", bleached, as for bounce"},
	{"unbleached muslin", 0.55, "", 30, 0, practice + ", luminous 0.55 and about 30 mired warm; measure the cloth"},
	{"black cloth", 0.03, "", 0, 0, practice + ", luminous 0.02 to 0.05"},
	{"black velvet", 0.01, "", 0, 0, "luminous 0.003 to 0.02, " + memory},
	{"grey card", 0.18, "", 0, 0, "by definition of the trade"},
	{"light skin", 0.36, "light skin", 0, 0, practice + ", one stop over grey; shape of a chart patch (Ohta 1997)"},
	{"medium skin", 0.21, "complexion", 0, 0, practice + ", 0 to 1/2 stop over grey; shape of CIE 13.3 sample 13 (complexion)"},
	{"deep skin", 0.09, "dark skin", 0, 0, practice + ", 0.06 to 0.13; shape of a chart patch (Ohta 1997)"},
}

// reflectances holds the measured shapes.
var reflectances = readTable("reflectances.csv")

// d65 is the light in which luminous reflectances are stated; its colour is 6503 K, Duv 0.0032.
var d65, _ = Illuminant("D65")

const d65Kelvin, d65Duv = 6503, 0.0032

func (m material) reflectance() Reflectance {
	return Reflectance{Name: m.name, Curve: m.curve(), Luminous: m.luminous, Source: m.source}
}

func (m material) curve() Curve {
	switch {
	case m.shape != "":
		c := Curve{nm: reflectances.nm, value: reflectances.column(m.shape)}
		return c.Scale(float64(m.luminous) * luminance(d65) / luminance(d65.Mul(c)))
	case m.shift == 0 && m.duv == 0:
		return Flat(float64(m.luminous))
	}
	want := white(1e6/(1e6/d65Kelvin+float64(m.shift)), d65Duv+m.duv)
	for k := range want {
		want[k] *= float64(m.luminous)
	}
	c, err := tuned(d65, want)
	if err != nil {
		panic("spectrum: no curve for a material")
	}
	return c
}
