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

// The index of a second program, the tests of colour-science (develop, November 2026): three spectra of Gaussian lobes (centre,
// standard deviation, height) at 5 nm from 380 to 760 nm, and tabulated sources. Its tolerance is 0.5.
func TestTLCIAgainstASecondProgram(t *testing.T) {
	lobes := func(of ...[3]float64) spectrum.Curve {
		var nm, value []float64
		for w := 380.0; w <= 760; w += 5 {
			v := 0.0
			for _, l := range of {
				v += l[2] * math.Exp(-0.5*(w-l[0])/l[1]*(w-l[0])/l[1])
			}
			nm, value = append(nm, w), append(value, v)
		}
		c, err := spectrum.Power(nm, value)
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	for _, c := range []struct {
		name       string
		source     spectrum.Curve
		want, most float64
	}{
		{"warm phosphor", lobes([3]float64{455, 12, 0.85}, [3]float64{600, 80, 1}, [3]float64{630, 25, 0.18}), 88, 0.5},
		{"cool phosphor", lobes([3]float64{450, 10, 1}, [3]float64{545, 75, 0.82}, [3]float64{610, 35, 0.22}), 77, 0.5},
		{"red, green, blue", lobes([3]float64{455, 14, 0.72}, [3]float64{535, 18, 1}, [3]float64{625, 18, 0.86}), 58, 0.5},
		{"FL2", illuminant(t, "FL2"), 29.4925, 0.05},
		{"LED-B3", illuminant(t, "LED-B3"), 73, 0.5},
		{"LED-RGB1", illuminant(t, "LED-RGB1"), 30, 0.5},
		{"cool phosphor LED", illuminant(t, "cool phosphor LED"), 60, 0.5},
		{"four LEDs", illuminant(t, "four LEDs"), 79, 0.5},
	} {
		got, err := TLCI(c.source)
		if err != nil {
			t.Fatal(err)
		}
		within(t, c.name, got, c.want, c.most)
	}
}

// Single figures that colour-science's documentation prints.
func TestPrintedFigures(t *testing.T) {
	within(t, "SSI of C to D65", SSI(illuminant(t, "C"), illuminant(t, "D65")), 94, 0)
	cri, err1 := CIE13(illuminant(t, "FL2"))
	rf, _, err2 := CIE224(illuminant(t, "FL2"))
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	within(t, "Ra of FL2", cri.Ra, 64.2337, 0.2)
	within(t, "Rf of FL2", rf, 70.1208, 0.1) // equal to the CIE's own spreadsheet there
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
