package spectrum

import (
	"fmt"
	"math"
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

// GelForms returns how a gel may be written, for messages.
func GelForms() string {
	return "1/2 CTO, full CTB, quarter CTO, ND 0.6, +109 mired, +109 mired 71 %"
}

// ParseGel reads a gel as a crew writes it, in the forms GelForms lists, and minus or plus green in the same strengths; letter case does not matter. A mired shift without
// a transmittance gets one interpolated between the trade gels. The error is a fault of kind Input.
func ParseGel(text string) (Gel, error) {
	s := strings.ToLower(strings.Join(strings.Fields(text), " "))
	if sheets := strings.SplitN(s, " + ", mostSheets+1); len(sheets) > 1 && len(sheets) <= mostSheets {
		return pack(text, sheets)
	}
	for _, kind := range []string{"cto", "ctb"} {
		if before, found := strings.CutSuffix(s, kind); found {
			return tradeGel(text, strings.TrimSpace(before), strings.ToUpper(kind))
		}
	}
	for _, kind := range []string{"minus green", "plus green"} {
		if before, found := strings.CutSuffix(s, kind); found {
			return greenGel(text, strings.TrimSpace(before), kind)
		}
	}
	if strings.HasPrefix(s, "nd") {
		var d unit.Density
		if err := d.Parse(s); err != nil {
			return Gel{}, refusal(text, err)
		}
		return neutral(d), nil
	}
	if shift, transmittance, found := strings.Cut(s, "mired"); found {
		return shiftGel(text, shift, strings.TrimSpace(transmittance))
	}
	return Gel{}, fault.Fault{Text: "not a gel", Read: text, Allowed: GelForms()}
}

const mostSheets = 4

func pack(text string, sheets []string) (Gel, error) {
	curve := Flat(1)
	var names []string
	for _, s := range sheets {
		g, err := ParseGel(s)
		if err != nil {
			return Gel{}, refusal(text, err)
		}
		curve, names = curve.Mul(g.Curve), append(names, g.Name)
	}
	return MeasuredGel(strings.Join(names, " + "), curve), nil
}

// strengths are the trade's, in words that ParseGel reads.
var strengths = []string{"1/8", "1/4", "1/2", "full"}

// TradeGels returns the correction gels every truck carries: orange, blue, minus and plus green, in each strength.
func TradeGels() []Gel {
	var gels []Gel
	for _, kind := range []string{"CTO", "CTB", "minus green", "plus green"} {
		for _, s := range strengths {
			g, err := ParseGel(s + " " + kind)
			if err != nil {
				panic("spectrum: no curve for a trade gel")
			}
			gels = append(gels, g)
		}
	}
	return gels
}

// refusal returns a fault that quotes the text of a gel and says what is wrong with a part of it.
func refusal(text string, err error) error {
	f := fault.Of(err, fault.Input)[0]
	f.Read = text
	return f
}

func tradeGel(text, strength, kind string) (Gel, error) {
	name := fractions[strength] + " " + kind
	for _, c := range corrections {
		if c.name == name {
			return coloured(c.name, c.shift, c.transmittance)
		}
	}
	return Gel{}, noStrength(text)
}

// compensations holds the trade strengths of minus and plus green: what they move in Duv, and what they pass. Common
// practice, no source: a density of 0.30 in the green, or in red and blue together, for a full one, in a clear film.
var compensations = map[string]struct {
	duv         float64
	minus, plus unit.Fraction
}{
	"full": {0.032, 0.63, 0.70}, "1/2": {0.016, 0.75, 0.79}, "1/4": {0.008, 0.83, 0.85}, "1/8": {0.004, 0.88, 0.89},
}

func greenGel(text, strength, kind string) (Gel, error) {
	c, known := compensations[fractions[strength]]
	if !known {
		return Gel{}, noStrength(text)
	}
	duv, share := -c.duv, c.minus
	if kind == "plus green" {
		duv, share = c.duv, c.plus
	}
	curve, err := GreenShift(duv, share)
	if err != nil {
		return Gel{}, refusal(text, err)
	}
	return Gel{Name: fractions[strength] + " " + kind, Curve: curve, Band: BandMean(curve), Duv: duv, Transmittance: share}, nil
}

func noStrength(text string) error {
	return fault.Fault{Text: "not a strength of a gel", Read: text, Allowed: "full, 1/2, 1/4 or 1/8"}
}

func shiftGel(text, shift, transmittance string) (Gel, error) {
	var m unit.Mired
	if err := m.Parse(shift); err != nil {
		return Gel{}, refusal(text, err)
	}
	name, share := fmt.Sprintf("%+g mired", float64(m)), typicalTransmittance(m)
	if transmittance != "" {
		if err := share.Parse(transmittance); err != nil {
			return Gel{}, refusal(text, err)
		}
		name = fmt.Sprintf("%s %g %%", name, float64(share)*100)
	}
	g, err := coloured(name, m, share)
	if err != nil {
		return Gel{}, refusal(text, err)
	}
	return g, nil
}

func neutral(d unit.Density) Gel {
	t := d.Transmittance()
	return Gel{Name: densityName(d), Curve: Flat(float64(t)), Band: ND(d), Transmittance: t}
}

// densityName returns every digit of a density, with a point, without which it would be read as tenths.
func densityName(d unit.Density) string {
	digits := strconv.FormatFloat(float64(d), 'f', -1, 64)
	if !strings.Contains(digits, ".") {
		digits += ".0"
	}
	return "ND " + digits
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
	size, low, loss := math.Abs(float64(shift)), 0.0, -math.Log(clearFilm)
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
