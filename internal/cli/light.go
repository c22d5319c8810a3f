package cli

import (
	"path/filepath"
	"strconv"
	"strings"

	"gloam/internal/colour"
	"gloam/internal/fault"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// lit is a light as the terminal was told of it. Of one that is assumed only the colour is known, and the curve is a smooth
// one of that colour.
type lit struct {
	name    string
	curve   spectrum.Curve
	assumed bool
	at      colour.Chromaticity
}

// light reads a light: a chromaticity, a colour temperature with or without Duv, an illuminant or a file.
func (t *terminal) light(text string) (*lit, error) {
	l := &lit{name: filepath.Base(text)}
	if x, y, ok := pair(text, ","); ok {
		return l.assume(colour.Chromaticity{X: x, Y: y})
	}
	if at, ok, err := reading(text); ok {
		if err != nil {
			return nil, fault.Of(err, fault.Call).Err()
		}
		return l.assume(at)
	}
	if c, ok := spectrum.Illuminant(text); ok {
		l.curve = c
		return l, nil
	}
	file, err := readFile(text)
	if err != nil {
		return nil, err
	}
	m, err := spectrum.Read(text, file)
	t.note(m.Notes)
	l.curve = m.Curve
	return l, err
}

// assume takes a light of which only the chromaticity is known.
func (l *lit) assume(at colour.Chromaticity) (_ *lit, err error) {
	l.at, l.assumed = at, true
	if !(at.X > 0 && at.Y > 0 && at.X+at.Y < 1) {
		return nil, fault.Fault{Kind: fault.Call, Text: "not a chromaticity", Read: l.name, Allowed: "x and y above 0, their sum below 1"}
	}
	if l.curve, err = colour.SmoothAt(at); err != nil {
		return nil, fault.Of(err, fault.Call).Err()
	}
	return l, nil
}

// pair reads two numbers.
func pair(text, separator string) (a, b float64, ok bool) {
	left, right, found := strings.Cut(text, separator)
	a, err1 := strconv.ParseFloat(strings.TrimSpace(left), 64)
	b, err2 := strconv.ParseFloat(strings.TrimSpace(right), 64)
	return a, b, found && err1 == nil && err2 == nil
}

// reading reads what a colour meter shows: 4000K, or 4000K+0.008 and 4000K-0.004 with the Duv. ok says that it is one.
func reading(text string) (at colour.Chromaticity, ok bool, err error) {
	number, duvText, found := strings.Cut(strings.ToUpper(strings.ReplaceAll(text, " ", "")), "K")
	kelvin, err := strconv.ParseFloat(number, 64)
	if !found || err != nil {
		return at, false, nil
	}
	duv := 0.0
	if duvText != "" {
		if duv, err = strconv.ParseFloat(strings.Replace(duvText, "−", "-", 1), 64); err != nil {
			return at, false, nil
		}
	}
	light, err := spectrum.BiColour(unit.Kelvin(kelvin), duv)
	return colour.MixtureOf([]spectrum.Light{light}, []unit.Lux{1}).Chromaticity(), true, err
}

func (l *lit) report(camera colour.Camera) (*colour.Report, fault.List) {
	if l.assumed {
		return colour.ReportAt(l.at, camera)
	}
	return colour.ReportOf(l.curve, camera)
}

func (l *lit) target(camera colour.Camera) (colour.Target, error) {
	if l.assumed {
		return colour.TargetAt(l.at)
	}
	return colour.TargetOf(l.curve, camera)
}
