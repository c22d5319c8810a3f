package photometry

import (
	"fmt"
	"io"
	"strings"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

// Format is a family of photometric files.
type Format string

// Formats that are read and written.
const (
	LM63     Format = "LM-63"
	EULUMDAT Format = "EULUMDAT"
)

// File is what a photometric file says.
type File struct {
	Name     string
	Format   Format
	Edition  string // of LM-63: 1986, 1991, 1995, 2002 or 2019; else empty
	Keywords []Keyword
	Type     Type
	Symmetry Symmetry
	Table    *Table // candela, every factor of the file applied

	LampSet                // the lamps the table holds for
	Alternatives []LampSet // further lamp sets of EULUMDAT, which the table is not for
	// Absolute says that the table was measured as such and does not follow the lamps' flux.
	Absolute   bool
	Opening    Opening
	Tilt       *Tilt   // nil where output does not follow tilt
	Generation float64 // LM-63-2019's file generation type; 0 in other files

	// Notes are worth telling and stop nothing: a second lamp set, more light than the lamps give.
	Notes fault.List
}

// Keyword is one labelled text of a file, in its order. A label line of LM-63-1986 has no name; MORE lines are part
// of the text they continue. EULUMDAT's texts stand under the LM-63 keywords of the same meaning.
type Keyword struct{ Name, Text string }

// LampSet is the lamps in a luminaire.
type LampSet struct {
	LampCount int
	LampType  string
	LampFlux  unit.Lumen // of all lamps together; 0 where an absolute file does not say
	Colour    string     // colour appearance or kelvin, as written; EULUMDAT
	Rendering string     // colour rendering group or index, as written; EULUMDAT
	Watts     unit.Watt  // input with ballast; 0 where not said
}

// Tilt is how output follows the tilt of the luminaire (LM-63 TILT=INCLUDE).
type Tilt struct {
	// Geometry is the lamp's position in the luminaire: 1 base up or down, 2 level and staying so, 3 level and tilting.
	Geometry int
	Angles   []unit.Degree // ascending
	Factors  []float64
}

// TiltFactor returns what to multiply all intensities with when the luminaire is tilted by the angle from its measured
// position: linear between the file's angles, the end values outside; 1 for a file without tilt.
func (f *File) TiltFactor(angle unit.Degree) float64 {
	if f.Tilt == nil {
		return 1
	}
	a, k := f.Tilt.Angles, f.Tilt.Factors
	last := len(a) - 1
	if angle <= a[0] {
		return k[0]
	}
	for i := 1; i <= last; i++ {
		if angle <= a[i] {
			share := float64((angle - a[i-1]) / (a[i] - a[i-1]))
			return k[i-1] + share*(k[i]-k[i-1])
		}
	}
	return k[last]
}

// ReadFile reads an LM-63 file of any edition or a EULUMDAT file; content decides, not the name, which is used in
// messages only. The error is a fault.List with line and column of each place. At most 16 MiB and 1,048,576 intensities
// are read, and no memory is set aside for values that are not there.
//
// Sources: [LM-63] for LM-63, [STOCKMAR] for EULUMDAT.
func ReadFile(name string, r io.Reader) (*File, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxBytes+1))
	if err != nil {
		return nil, fault.List{{Kind: fault.Unfinished, Place: fault.Place{File: name}, Text: err.Error()}}
	}
	whole := fault.Place{File: name}
	if len(data) > maxBytes {
		return nil, fault.List{{Place: whole, Text: "the file is too large", Allowed: "up to 16 MiB"}}
	}
	s := newScanner(name, data)
	if strings.Trim(s.text, blanks+"\n") == "" {
		return nil, fault.List{{Place: whole, Text: "the file is empty"}}
	}
	var f *File
	switch {
	case isLM63(s.text):
		f = readLM63(s)
	case isEULUMDAT(s.text):
		f = readEULUMDAT(s)
	default:
		return nil, fault.List{{Place: whole, Text: "neither an LM-63 nor a EULUMDAT file",
			Hint: "an LM-63 file has a line TILT=; in a EULUMDAT file lines 2 to 7 are numbers"}}
	}
	if s.failed() {
		return nil, s.faults
	}
	f.Name = name
	f.noteFlux()
	return f, nil
}

// noteFlux notes a table that sends out more than its lamps give, by more than the 2 % a coarse table may be off.
func (f *File) noteFlux() {
	if out := f.Table.Flux(); !f.Absolute && out > 1.02*f.LampFlux {
		f.note(fmt.Sprintf("the intensities add up to %.0f lm, more than the %.0f lm of the lamps", out, f.LampFlux))
	}
}

func (f *File) note(text string) {
	f.Notes = append(f.Notes, fault.Fault{Kind: fault.Note, Place: fault.Place{File: f.Name}, Text: text})
}

// keyword returns the first text under the name, or "".
func (f *File) keyword(name string) string {
	for _, k := range f.Keywords {
		if k.Name == name {
			return k.Text
		}
	}
	return ""
}
