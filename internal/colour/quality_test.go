package colour

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gloam/internal/fault"
	"gloam/internal/spectrum"
)

// The indices of 57 spectra against another program's (quality.csv), with the tolerances its makers found between programs:
// Ra 0.3, special indices 0.5, Rf and Rg 0.3, TLCI 2, SSI 1.
func TestQualityAgainstOtherPrograms(t *testing.T) {
	d55 := illuminant(t, "D55")
	for _, r := range quality(t) {
		source := spectrumOf(t, r.name)
		if r.name != "low-pressure sodium" { // on which the two programs at hand do not agree
			cri, err := CIE13(source)
			if err != nil {
				t.Fatal(r.name, err)
			}
			within(t, r.name+" Ra", cri.Ra, r.is["Ra"], 0.3)
			for i, got := range cri.R {
				name := fmt.Sprintf("R%d", i+1)
				within(t, r.name+" "+name, got, r.is[name], 0.5)
			}
		}
		rf, rg, err := CIE224(source)
		if err != nil {
			t.Fatal(r.name, err)
		}
		within(t, r.name+" Rf", rf, r.is["Rf"], 0.3)
		within(t, r.name+" Rg", rg, r.is["Rg"], 0.3)
		tlci, err := TLCI(source)
		if err != nil {
			t.Fatal(r.name, err)
		}
		within(t, r.name+" TLCI", tlci, r.is["TLCI_argyll"], 2)

		cct, _, err := CCTDuv(lightXYZ(spectrum.LightOf(source)))
		if err != nil {
			t.Fatal(r.name, err)
		}
		own, err := SSIReference(cct)
		if err != nil {
			t.Fatal(r.name, err)
		}
		within(t, r.name+" SSI", SSI(source, own), max(0, r.is["SSI"]), 1)
		within(t, r.name+" SSI of 3200 K", SSI(source, spectrum.Planck(3200)), max(0, r.is["SSI_P3200"]), 1)
		within(t, r.name+" SSI of D55", SSI(source, d55), max(0, r.is["SSI_D55"]), 1)
	}
}

func TestFluorescentRa(t *testing.T) {
	// CIE 15:2004, table T.7 (from memory): Ra of FL1 to FL12, in whole numbers.
	for i, want := range []float64{76, 64, 57, 51, 72, 59, 90, 95, 90, 81, 83, 83} {
		name := fmt.Sprintf("FL%d", i+1)
		cri, err := CIE13(illuminant(t, name))
		if err != nil {
			t.Fatal(err)
		}
		within(t, name, cri.Ra, want, 1)
	}
}

func TestCIEDE2000(t *testing.T) {
	// Sharma, Wu, Dalal (2005), table 1, pairs 1, 4, 7, 9, 10, 14, 17, 20, 23, 25 and 34 (from memory).
	for _, c := range []struct {
		p, q [3]float64
		want float64
	}{
		{[3]float64{50, 2.6772, -79.7751}, [3]float64{50, 0, -82.7485}, 2.0425},
		{[3]float64{50, -1.3802, -84.2814}, [3]float64{50, 0, -82.7485}, 1.0000},
		{[3]float64{50, 0, 0}, [3]float64{50, -1, 2}, 2.3669},
		{[3]float64{50, 2.49, -0.001}, [3]float64{50, -2.49, 0.0009}, 7.1792},
		{[3]float64{50, 2.49, -0.001}, [3]float64{50, -2.49, 0.0010}, 7.1792},
		{[3]float64{50, -0.001, 2.49}, [3]float64{50, 0.0011, -2.49}, 4.7461},
		{[3]float64{50, 2.5, 0}, [3]float64{73, 25, -18}, 27.1492},
		{[3]float64{50, 2.5, 0}, [3]float64{58, 24, 15}, 19.4535},
		{[3]float64{50, 2.5, 0}, [3]float64{50, 1.8634, 0.5757}, 1.0000},
		{[3]float64{60.2574, -34.0099, 36.2677}, [3]float64{60.4626, -34.1751, 39.4387}, 1.2644},
		{[3]float64{2.0776, 0.0795, -1.1350}, [3]float64{0.9033, -0.0636, -0.5514}, 0.9082},
	} {
		within(t, fmt.Sprint(c.p, c.q), ciede2000(c.p, c.q), c.want, 1e-4)
		within(t, fmt.Sprint(c.q, c.p), ciede2000(c.q, c.p), c.want, 1e-4)
	}
}

// A source has every mark under the reference that it is itself, in any unit of power.
func TestReferencesAreFlawless(t *testing.T) {
	day, err := spectrum.Daylight(6000)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []spectrum.Curve{spectrum.Planck(2700), day, day.Scale(1e-20)} {
		cri, err1 := CIE13(c)
		rf, rg, err2 := CIE224(c)
		tlci, err3 := TLCI(c)
		if err1 != nil || err2 != nil || err3 != nil {
			t.Fatal(err1, err2, err3)
		}
		within(t, "Ra", cri.Ra, 100, 0.05)
		within(t, "Rf", rf, 100, 0.1)
		within(t, "Rg", rg, 100, 0.1)
		within(t, "TLCI", tlci, 100, 0.1)
		within(t, "SSI", SSI(c, c), 100, 0)
	}
}

// What is not white has no index, and says so.
func TestNoIndexWithoutAWhite(t *testing.T) {
	red := spectrum.LED(640, 15)
	dark := red.Scale(0)
	for _, c := range []spectrum.Curve{red, dark} {
		_, err1 := CIE13(c)
		_, _, err2 := CIE224(c)
		_, err3 := TLCI(c)
		for _, err := range []error{err1, err2, err3} {
			if fault.Code(err) != 1 || !strings.Contains(err.Error(), "too far from white") {
				t.Errorf("index of no white: %v", err)
			}
		}
	}
	if got := SSI(dark, spectrum.Planck(3200)); got != 0 || math.IsNaN(got) {
		t.Errorf("SSI of darkness is %v", got)
	}
}
