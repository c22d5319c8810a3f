package spectrum

import (
	"fmt"
	"strconv"
	"strings"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

// fractions maps the ways of writing a strength to the one in corrections.
var fractions = map[string]string{
	"": "full", "full": "full", "1/1": "full",
	"half": "1/2", "1/2": "1/2", "½": "1/2",
	"quarter": "1/4", "1/4": "1/4", "¼": "1/4",
	"eighth": "1/8", "1/8": "1/8", "⅛": "1/8",
}

// GelForms returns how a gel may be written, for messages.
func GelForms() string {
	return "1/2 CTO, full CTB, 1/4 minus green, full plus green, ND 0.6, +109 mired, +109 mired 71 %, 1/2 CTO + ND 0.6"
}

// ParseGel reads a gel as a crew writes it, in the forms GelForms lists, one sheet or a pack of up to four; letter case does
// not matter. A mired shift without a transmittance gets one interpolated between the trade gels. The error is a fault of kind Input.
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
