package spectrum

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

// correction is one trade gel: a colour correction in a strength.
type correction struct {
	name          string
	shift         unit.Mired
	transmittance unit.Fraction
}

// corrections holds the trade strengths of colour-temperature orange and blue. Common practice, no source: figures from
// memory inside the spread between makers (full orange +130 to +165, half +80 to +110, quarter +40 to +65, eighth +20
// to +26 mired; losses ±1/4 stop). Measure the roll.
var corrections = []correction{
	{"full CTO", 150, 0.60},
	{"1/2 CTO", 109, 0.71},
	{"1/4 CTO", 64, 0.80},
	{"1/8 CTO", 24, 0.88},
	{"full CTB", -135, 0.33},
	{"1/2 CTB", -75, 0.54},
	{"1/4 CTB", -35, 0.69},
	{"1/8 CTB", -18, 0.81},
}

// fractions maps the ways of writing a strength to the one in corrections.
var fractions = map[string]string{
	"": "full", "full": "full", "1/1": "full",
	"half": "1/2", "1/2": "1/2", "½": "1/2",
	"quarter": "1/4", "1/4": "1/4", "¼": "1/4",
	"eighth": "1/8", "1/8": "1/8", "⅛": "1/8",
}

const decimal = `([+-]?[0-9]*[.,]?[0-9]+)`

var (
	correctionForm = regexp.MustCompile(`^([a-z]*|[0-9]/[0-9]|[½¼⅛]) *(cto|ctb)$`)
	densityForm    = regexp.MustCompile(`^nd *` + decimal + `$`)
	miredForm      = regexp.MustCompile(`^` + decimal + ` *mired(?: +` + decimal + ` *%)?$`)
)

// GelForms returns how a gel may be written, for messages.
func GelForms() string {
	return "1/2 CTO, full CTB, quarter CTO, ND 0.6, +109 mired, +109 mired 71 %"
}

// ParseGel reads a gel as a crew writes it, in the forms GelForms lists; letter case does not matter and a decimal comma
// is read. A mired shift without a transmittance gets one interpolated between the trade gels. The error is a fault of kind
// Input.
func ParseGel(text string) (Gel, error) {
	s := strings.ToLower(strings.Join(strings.Fields(strings.ReplaceAll(text, "−", "-")), " "))
	bad := fault.Fault{Text: "not a gel", Read: text, Allowed: GelForms()}
	if m := correctionForm.FindStringSubmatch(s); m != nil {
		strength, known := fractions[m[1]]
		if !known {
			return Gel{}, bad
		}
		return tradeGel(strength + " " + strings.ToUpper(m[2])), nil
	}
	if m := densityForm.FindStringSubmatch(s); m != nil {
		d := decimalOf(m[1])
		if !(d >= 0 && d <= 10) {
			bad.Allowed = "a density from 0 to 10"
			return Gel{}, bad
		}
		return neutral(unit.Density(d)), nil
	}
	if m := miredForm.FindStringSubmatch(s); m != nil {
		shift := unit.Mired(decimalOf(m[1]))
		name, transmittance := fmt.Sprintf("%+g mired", float64(shift)), typicalTransmittance(shift)
		if m[2] != "" {
			percent := decimalOf(m[2])
			name, transmittance = fmt.Sprintf("%s %g %%", name, percent), unit.Fraction(percent/100)
		}
		g, err := coloured(name, shift, transmittance)
		if err != nil {
			f := fault.Of(err, fault.Input)[0]
			f.Read = text
			return Gel{}, f
		}
		return g, nil
	}
	return Gel{}, bad
}

func decimalOf(text string) float64 {
	v, err := strconv.ParseFloat(strings.ReplaceAll(text, ",", "."), 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

func tradeGel(name string) Gel {
	for _, c := range corrections {
		if c.name == name {
			g, err := coloured(c.name, c.shift, c.transmittance)
			if err != nil {
				panic("spectrum: no curve for a trade gel")
			}
			return g
		}
	}
	panic("spectrum: trade gel missing from its table")
}

func neutral(d unit.Density) Gel {
	t := math.Pow(10, -float64(d))
	return Gel{Name: fmt.Sprintf("ND %g", float64(d)), Curve: Flat(t), Band: ND(d), Transmittance: unit.Fraction(t)}
}

func coloured(name string, shift unit.Mired, transmittance unit.Fraction) (Gel, error) {
	c, err := MiredShift(shift, transmittance)
	if err != nil {
		return Gel{}, err
	}
	return Gel{Name: name, Curve: c, Band: BandMean(c), Shift: shift, Transmittance: transmittance}, nil
}

// typicalTransmittance returns the transmittance of a gel of a shift, by its loss in the trade gels: linear between
// them and a clear film's 0.92, and in proportion beyond the strongest.
func typicalTransmittance(shift unit.Mired) unit.Fraction {
	size, low, loss := math.Abs(float64(shift)), 0.0, -math.Log(0.92)
	rate := 0.0
	for i := len(corrections) - 1; i >= 0; i-- {
		c := corrections[i]
		if c.shift*shift <= 0 {
			continue
		}
		to, toLoss := math.Abs(float64(c.shift)), -math.Log(float64(c.transmittance))
		rate = (toLoss - loss) / (to - low)
		if size <= to {
			break
		}
		low, loss = to, toLoss
	}
	return unit.Fraction(math.Exp(-loss - rate*(size-low)))
}
