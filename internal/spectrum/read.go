package spectrum

import (
	"fmt"
	"slices"

	"gloam/internal/fault"
)

// Measured is a source's spectrum as a person's file gives it. Notes says what in the file limits what can be told of it.
type Measured struct {
	Curve
	Name  string // of its column, where the file has names
	Notes fault.List
}

// noise is how far below zero, as a share of the greatest value, a dark reading of a spectrometer may fall.
const noise = 0.02

// Read reads a source's relative spectral power from a CSV of two columns, nm and value, as ReadTable takes it. Values
// below 0 by up to 2 % of the greatest are a spectrometer's noise and count as 0, with a note; lower ones are a fault, as is a
// spectrum without visible light.
func Read(file string, text []byte) (Measured, error) {
	t, err := ReadTable(file, text)
	if err != nil {
		return Measured{}, err
	}
	if len(t.columns) != 1 {
		return Measured{}, t.fault(t.lines[0], 0, "more than one spectrum in the file",
			fmt.Sprintf("%d columns", len(t.columns)+1), "2 columns: nm and value")
	}
	m := Measured{Name: t.Names[0]}
	values := slices.Clone(t.columns[0])
	most, dark := slices.Max(values), 0
	for i, v := range values {
		if v < -noise*most {
			return Measured{}, t.fault(t.lines[i], 0, "a value of the spectrum is out of range", fmt.Sprint(v), allowed(brightest))
		}
		if v < 0 {
			values[i], dark = 0, dark+1
		}
	}
	m.Curve = Curve{t.nm, values, true}
	if luminance(m.Curve) < darkest {
		return Measured{}, t.fault(0, 0, "the spectrum holds no visible light", "", "power between 360 and 830 nm")
	}
	m.note(t, dark)
	return m, nil
}

// note gathers what limits the file.
func (m *Measured) note(t Table, dark int) {
	add := func(text, read, allowed string) {
		f := t.fault(0, 0, text, read, allowed).(fault.Fault)
		f.Kind = fault.Note
		m.Notes = append(m.Notes, f)
	}
	if dark > 0 {
		add("values below 0 are taken as 0", fmt.Sprintf("%d values", dark), "")
	}
	low, high := t.nm[0], t.nm[len(t.nm)-1]
	if low > 400 || high < 700 {
		add("what lies outside the file's wavelengths is taken as dark", fmt.Sprintf("%g to %g nm", low, high), "380 to 780 nm")
	}
	widest := 0.0
	for i := 1; i < len(t.nm); i++ {
		if t.nm[i] > First && t.nm[i-1] < Last {
			widest = max(widest, t.nm[i]-t.nm[i-1])
		}
	}
	if widest > coarsest {
		add("the spectrum is filled in by straight lines between its samples", fmt.Sprintf("%g nm apart", widest), "5 nm or less")
	}
}

// ReadGel reads a gel's or a cloth's measured transmittance from a CSV of two columns, nm and a share from 0 to 1, as
// ReadTable takes it; its numbers are MeasuredGel's.
func ReadGel(name, file string, text []byte) (Gel, error) {
	t, err := ReadTable(file, text)
	if err != nil {
		return Gel{}, err
	}
	if len(t.columns) != 1 {
		return Gel{}, t.fault(t.lines[0], 0, "more than one transmittance in the file",
			fmt.Sprintf("%d columns", len(t.columns)+1), "2 columns: nm and share")
	}
	c, err := t.Factor(0)
	if err != nil {
		return Gel{}, err
	}
	return MeasuredGel(name, c), nil
}
