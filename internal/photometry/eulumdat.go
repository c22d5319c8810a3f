package photometry

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

// eulumdat reads the lines of a EULUMDAT file, one value a line. Its first 26 are numbered in [STOCKMAR].
type eulumdat struct{ *scanner }

// isEULUMDAT reports whether the lines for Ityp, Isym, Mc, Dc, Ng and Dg hold numbers or nothing.
func isEULUMDAT(text string) bool {
	s := scanner{text: text, line: 1}
	s.nextLine()
	for range 6 {
		line, _, ok := s.nextLine()
		if _, number := parseLine(line); !ok || !number && line != "" {
			return false
		}
	}
	return true
}

// parseLine reads a number that may have a decimal comma.
func parseLine(line string) (float64, bool) { return parseNumber(strings.Replace(line, ",", ".", 1)) }

// text reads a line as it stands.
func (e eulumdat) text(what string) (string, fault.Place) {
	line, at, ok := e.nextLine()
	if !ok && !e.failed() {
		e.fail(at, "the file ends before "+what, "", "")
	}
	return line, at
}

// value reads a line that must be a number.
func (e eulumdat) value(what string) (float64, fault.Place, bool) {
	line, at, ok := e.nextLine()
	if !ok {
		if !e.failed() {
			e.fail(at, "the file ends before "+what, "", "")
		}
		return 0, at, false
	}
	x, ok := parseLine(line)
	if !ok {
		e.fail(at, what+" is not a number", line, "")
	}
	return x, at, ok
}

// optional reads a line that is a number of 0 or more, or blank for 0.
func (e eulumdat) optional(what string) float64 {
	line, at := e.text(what)
	x, ok := parseLine(line)
	if line != "" && !(ok && x >= 0) {
		e.fail(at, what+" is not possible", line, "0 or more, or blank")
	}
	return x
}

// layout is what lines 3 to 7 say of the table.
type layout struct {
	isym, planes, gammas int // Isym, Mc, Ng
	at                   fault.Place
}

// readEULUMDAT reads a EULUMDAT file. Of several lamp sets, which are alternatives, the first is used.
func readEULUMDAT(s *scanner) *File {
	e := eulumdat{s}
	f := &File{Format: EULUMDAT, Type: TypeC}
	texts := func(name, what string) {
		if line, _ := e.text(what); line != "" {
			f.Keywords = append(f.Keywords, Keyword{name, line})
		}
	}
	texts("MANUFAC", "the company")
	l := e.layout()
	if s.failed() {
		return nil
	}
	texts("TEST", "the report number")
	texts("LUMINAIRE", "the luminaire's name")
	texts("LUMCAT", "the luminaire's number")
	texts("_FILE", "the file name")
	texts("ISSUEDATE", "the date")
	f.Opening = e.opening()
	for _, what := range []string{"the downward flux fraction", "the light output ratio"} {
		e.optional(what)
	}
	factor := e.positive("the conversion factor")
	e.value("the tilt during measurement")
	f.readLampSets(e)
	for i := range 10 {
		e.optional(fmt.Sprintf("direct ratio %d of 10", i+1))
	}
	if s.failed() {
		return nil
	}
	f.readPlanes(e, l, factor*float64(f.LampFlux)/1000)
	return f
}

// layout reads lines 2 to 7.
func (e eulumdat) layout() layout {
	e.optional("the type indicator Ityp")
	isym, isymAt, _ := e.value("the symmetry Isym")
	mc, mcAt, _ := e.value("the number of C-planes Mc")
	e.optional("the distance of C-planes Dc")
	ng, _, _ := e.value("the number of intensities in a plane Ng")
	e.optional("the distance of intensities Dg")
	if e.failed() {
		return layout{}
	}
	l := layout{at: mcAt, isym: e.whole(isym, isymAt, "the symmetry Isym", 0, 4)}
	l.gammas, l.planes = e.counts(ng, mc, mcAt)
	if !e.failed() {
		e.enough(mcAt, l.gammas+l.planes, "angles")
	}
	return l
}

// positive reads a line that must be a number above 0.
func (e eulumdat) positive(what string) float64 {
	x, at, ok := e.value(what)
	if ok && x <= 0 {
		e.fail(at, what+" is not possible", strconv.FormatFloat(x, 'g', -1, 64), "above 0")
	}
	return x
}

// opening reads lines 13 to 21: the luminaire, of which nothing is kept, and its luminous area in millimetres, whose
// length lies along C90–C270.
func (e eulumdat) opening() Opening {
	for _, what := range []string{"length", "width", "height"} {
		e.optional("the luminaire's " + what)
	}
	length := e.optional("the luminous area's length") / 1000
	width := e.optional("the luminous area's width") / 1000
	height := 0.0
	for c := 0; c < 360; c += 90 {
		height = max(height, e.optional(fmt.Sprintf("the luminous area's height at C%d", c))/1000)
	}
	o := Opening{Rectangle, unit.Metre(length), unit.Metre(width), unit.Metre(height)}
	switch {
	case length == 0 && width == 0:
		o.Shape = Point
	case width == 0 && height > 0:
		o.Shape, o.Length = Cylinder, o.Width
	case width == 0:
		o.Shape, o.Length = Circle, o.Width
	case height > 0:
		o.Shape = Box
	}
	return o
}

// readLampSets reads line 26 and the six lines of each set.
func (f *File) readLampSets(e eulumdat) {
	n, at, ok := e.value("the number of lamp sets")
	if !ok {
		return
	}
	for i := range e.whole(n, at, "the number of lamp sets", 1, 100) {
		var s LampSet
		count, countAt, _ := e.value("the number of lamps")
		// A negative number of lamps says absolute photometry; the table stays in cd per 1000 lm of the stated flux.
		s.LampCount = e.whole(math.Abs(count), countAt, "the number of lamps", 0, 1e6)
		s.LampType, _ = e.text("the type of lamps")
		s.LampFlux = unit.Lumen(e.positive("the total flux of the lamps"))
		s.Colour, _ = e.text("the colour appearance")
		s.Rendering, _ = e.text("the colour rendering")
		s.Watts = unit.Watt(e.optional("the watts"))
		if e.failed() {
			return
		}
		if i == 0 {
			f.LampSet, f.Absolute = s, count < 0
		} else {
			f.Alternatives = append(f.Alternatives, s)
		}
	}
	if len(f.Alternatives) > 0 {
		f.note(fmt.Sprintf("of %d lamp sets the first is used: %s, %.0f lm", len(f.Alternatives)+1, f.LampType, f.LampFlux))
	}
}
