package colour

import (
	"encoding/csv"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// within fails the test when got is not want to the tolerance.
func within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.8g, want %.8g ± %.2g", what, got, want, tolerance)
	}
}

func illuminant(t *testing.T, name string) spectrum.Curve {
	t.Helper()
	c, ok := spectrum.Illuminant(name)
	if !ok {
		t.Fatalf("no illuminant %s", name)
	}
	return c
}

// whiteOf returns colour temperature and Duv of a spectrum.
func whiteOf(t *testing.T, c spectrum.Curve) (cct, duv float64) {
	t.Helper()
	k, duv, err := CCTDuv(lightXYZ(spectrum.LightOf(c)))
	if err != nil {
		t.Fatal(err)
	}
	return float64(k), duv
}

func TestChromaticityOfIlluminants(t *testing.T) {
	// Published chromaticities of CIE 15:2004 and CIE 15:2018, 2° observer; cct where the standard gives one, else 0.
	for _, c := range []struct {
		name           string
		x, y, xyWithin float64
		cct, cctWithin float64
	}{
		{"A", 0.44758, 0.40745, 2e-5, 0, 0}, {"C", 0.31006, 0.31616, 2e-5, 0, 0},
		{"D50", 0.34567, 0.35851, 2e-5, 0, 0}, {"D55", 0.33243, 0.34744, 2e-5, 0, 0},
		{"D65", 0.31272, 0.32903, 2e-5, 6504, 2}, {"D75", 0.29903, 0.31488, 2e-5, 0, 0},
		{"E", 1. / 3, 1. / 3, 1e-4, 0, 0}, // by the design of the observer
		{"FL1", .3131, .3371, 1e-4, 6430, 10}, {"FL2", .3721, .3751, 1e-4, 4230, 10}, {"FL3", .4091, .3941, 1e-4, 3450, 10},
		{"FL4", .4402, .4031, 1e-4, 2940, 10}, {"FL5", .3138, .3452, 1e-4, 6350, 10}, {"FL6", .3779, .3882, 1e-4, 4150, 10},
		{"FL7", .3129, .3292, 1e-4, 6500, 10}, {"FL8", .3458, .3586, 1e-4, 5000, 10}, {"FL9", .3741, .3727, 1e-4, 4150, 10},
		{"FL10", .3458, .3588, 1e-4, 5000, 10}, {"FL11", .3805, .3769, 1e-4, 4000, 10}, {"FL12", .4370, .4042, 1e-4, 3000, 10},
		{"LED-B1", .4560, .4078, 1e-4, 2733, 5}, {"LED-B2", .4357, .4012, 1e-4, 2998, 5}, {"LED-B3", .3756, .3723, 1e-4, 4103, 5},
		{"LED-B4", .3422, .3502, 1e-4, 5109, 5}, {"LED-B5", .3118, .3236, 1e-4, 6598, 5}, {"LED-BH1", .4474, .4066, 1e-4, 2851, 5},
		{"LED-RGB1", .4557, .4211, 1e-4, 2840, 5}, {"LED-V1", .4548, .4044, 1e-4, 2724, 5}, {"LED-V2", .3781, .3775, 1e-4, 4070, 5},
	} {
		curve := illuminant(t, c.name)
		xy := lightXYZ(spectrum.LightOf(curve)).Chromaticity()
		within(t, c.name+" x", xy.X, c.x, c.xyWithin)
		within(t, c.name+" y", xy.Y, c.y, c.xyWithin)
		if c.cct > 0 {
			cct, _ := whiteOf(t, curve)
			within(t, c.name+" CCT", cct, c.cct, c.cctWithin)
		}
	}
}

func TestDuvOfIlluminants(t *testing.T) {
	// Computed with colour-science 0.4.6.
	for _, c := range []struct {
		name string
		duv  float64
	}{{"A", 0}, {"D50", 0.0032}, {"D65", 0.0032}, {"D75", 0.0031}, {"FL1", 0.0071}, {"FL5", 0.0107}} {
		_, duv := whiteOf(t, illuminant(t, c.name))
		within(t, c.name, duv, c.duv, 2e-4)
	}
}

// spectrumOf returns the spectrum a row of quality.csv names.
func spectrumOf(t *testing.T, name string) spectrum.Curve {
	t.Helper()
	kelvin := func(prefix string) unit.Kelvin {
		v, err := strconv.ParseFloat(strings.TrimSuffix(strings.TrimPrefix(name, prefix), " K"), 64)
		if err != nil {
			t.Fatal(err)
		}
		return unit.Kelvin(v)
	}
	switch {
	case strings.HasPrefix(name, "Planck "):
		return spectrum.Planck(kelvin("Planck "))
	case strings.HasPrefix(name, "CIE D "):
		// A D illuminant is named by its temperature on the older scale, c2 = 1.4380e-2 m·K [CIE15], clause 3.1.
		c, err := spectrum.Daylight(kelvin("CIE D ") * 1.4388 / 1.4380)
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	return illuminant(t, name)
}

// row is a line of quality.csv: the name of its spectrum and its figures by their column.
type row struct {
	name string
	is   map[string]float64
}

// quality returns the spectra of which another program's figures are at hand.
func quality(t *testing.T) []row {
	t.Helper()
	records := records(t, "quality.csv")
	var rows []row
	for _, r := range records[1:] {
		next := row{r[0], map[string]float64{}}
		for i, name := range records[0][1:] {
			next.is[name] = number(t, r[i+1])
		}
		rows = append(rows, next)
	}
	return rows
}

// records returns the lines of a CSV of testdata, without its comments.
func records(t *testing.T, name string) [][]string {
	t.Helper()
	file, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	reader := csv.NewReader(file)
	reader.Comment = '#'
	all, err := reader.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestWhitesAgainstAnotherProgram(t *testing.T) {
	for _, r := range quality(t) {
		c := lightXYZ(spectrum.LightOf(spectrumOf(t, r.name)))
		xy := c.Chromaticity()
		// The file gives five decimals. Its black bodies are cut off at 380 and 780 nm, ours at 360 and 830.
		tolerance := 2e-5
		if strings.HasPrefix(r.name, "Planck") {
			tolerance = 8e-5
		}
		within(t, r.name+" x", xy.X, r.is["x"], tolerance)
		within(t, r.name+" y", xy.Y, r.is["y"], tolerance)
		cct, duv, err := CCTDuv(c)
		if err != nil {
			t.Fatal(r.name, err)
		}
		within(t, r.name+" CCT", float64(cct), r.is["CCT_Ohno2013"], 2)
		within(t, r.name+" Duv", duv, r.is["Duv_Ohno2013"], 1e-4)
	}
}

// everyNanometre returns the same curve with a sample at each nm, as a measurement at 1 nm would give it.
func everyNanometre(t *testing.T, c spectrum.Curve) spectrum.Curve {
	t.Helper()
	var nm, value []float64
	for w := spectrum.First; w <= spectrum.Last; w++ {
		nm, value = append(nm, float64(w)), append(value, c.At(float64(w)))
	}
	fine, err := spectrum.Power(nm, value)
	if err != nil {
		t.Fatal(err)
	}
	return fine
}

// The eight bands carry any spectrum that has met nothing coloured, and any mixture of such, as exactly as integration at
// 1 nm: every tabulated source, each black body and phase of daylight, and all mixtures in pairs. A table at 5 nm is summed
// at 5 nm, as the CIE's own chromaticities are; where nearly all light is in the sodium lines, straight lines at 1 nm
// between those samples are no better a truth, and the two differ by up to a mired.
func TestIntegrationAgainstOneNanometre(t *testing.T) {
	type source struct {
		name        string
		light, fine spectrum.Light
	}
	var all []source
	add := func(name string, c spectrum.Curve) {
		all = append(all, source{name, spectrum.LightOf(c), spectrum.LightOf(everyNanometre(t, c))})
	}
	for _, name := range spectrum.IlluminantNames() {
		add(name, illuminant(t, name))
	}
	for _, k := range []unit.Kelvin{1800, 2700, 3200, 4300, 5600, 10000} {
		add("black body", spectrum.Planck(k))
		if k > 4000 {
			c, err := spectrum.Daylight(k)
			if err != nil {
				t.Fatal(err)
			}
			add("daylight", c)
		}
	}
	sodium := []string{"low-pressure sodium", "high-pressure sodium", "HP1"}
	check := func(what string, got, want XYZ) {
		t.Helper()
		mired, duv := compared(t, got, want)
		most := 0.5
		if slices.ContainsFunc(sodium, func(s string) bool { return strings.Contains(what, s) }) {
			most = 1
		}
		within(t, what+" mired", mired, 0, most)
		within(t, what+" Duv", duv, 0, 5e-4)
	}
	for i, a := range all {
		check(a.name, lightXYZ(a.light), lightXYZ(a.fine))
		for _, b := range all[:i] {
			levels := []unit.Lux{300, 700}
			check(a.name+" with "+b.name, MixtureOf([]spectrum.Light{a.light, b.light}, levels),
				MixtureOf([]spectrum.Light{a.fine, b.fine}, levels))
		}
	}
}
