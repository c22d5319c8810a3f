package photometry

import (
	"fmt"
	"strings"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

// foot is the international foot, in metres.
const foot = 0.3048

// editions are the years after the last hyphen of the first line.
var editions = map[string]string{
	"86": "1986", "1986": "1986", "91": "1991", "1991": "1991", "95": "1995", "1995": "1995",
	"02": "2002", "2002": "2002", "19": "2019", "2019": "2019",
}

// edition reads LM-63's first line. Version says that it is a version line at all; the edition of 1986 has none.
func edition(line string) (year string, version bool) {
	l := strings.ToUpper(strings.ReplaceAll(line, " ", ""))
	if l == "IESNA91" || l == "IESNA:91" {
		return "1991", true
	}
	if !strings.HasPrefix(l, "IES") || !strings.Contains(l, "LM-63") {
		return "1986", false
	}
	return editions[l[strings.LastIndexByte(l, '-')+1:]], true
}

// tiltLine returns what stands behind TILT=.
func tiltLine(line string) (string, bool) {
	before, after, found := strings.Cut(line, "=")
	if !found || !strings.EqualFold(strings.Trim(before, blanks), "TILT") {
		return "", false
	}
	return strings.Trim(after, blanks), true
}

// isLM63 reports whether the text opens with a version line or has a TILT= line among its first.
func isLM63(text string) bool {
	s := scanner{text: text, line: 1}
	for i := range maxLabels {
		line, _, ok := s.nextLine()
		if _, version := edition(line); ok && i == 0 && version {
			return true
		}
		if _, found := tiltLine(line); found {
			return true
		}
	}
	return false
}

// readLM63 reads an LM-63 file of any edition.
func readLM63(s *scanner) *File {
	f := &File{Format: LM63}
	tilt, at, ok := f.readLabels(s)
	if !ok || !f.readTilt(s, tilt, at) {
		return nil
	}
	h, ok := readHeader(s, f.Edition)
	if !ok {
		return nil
	}
	f.LampCount, f.Absolute, f.Watts = h.lamps, h.lumens == -1, unit.Watt(h.watts)
	if !f.Absolute {
		f.LampFlux = unit.Lumen(h.lumens * float64(h.lamps))
	}
	f.LampType = f.keyword("LAMP")
	f.Opening = readOpening(f.Edition, h.size[0], h.size[1], h.size[2])
	f.Type, f.Generation = h.kind, h.generation
	f.readTable(s, h)
	return f
}

// readLabels reads the version line, the keywords and labels, and returns what TILT= says.
func (f *File) readLabels(s *scanner) (tilt string, at fault.Place, ok bool) {
	for i := range maxLabels {
		line, at, ok := s.nextLine()
		if !ok {
			break
		}
		if i == 0 {
			year, version := edition(line)
			if year == "" {
				s.fail(at, "this edition of LM-63 is not known", line,
					"IES:LM-63-2019, IESNA:LM-63-2002, IESNA:LM-63-1995, IESNA91 or, for 1986, no such line")
				return "", at, false
			}
			f.Edition = year
			if version {
				continue
			}
		}
		if tilt, found := tiltLine(line); found {
			return tilt, at, true
		}
		f.addLabel(line)
	}
	s.fail(s.place(s.pos), "the line TILT= is missing", "", fmt.Sprintf("TILT=NONE or TILT=INCLUDE within %d lines", maxLabels))
	return "", at, false
}

func (f *File) addLabel(line string) {
	if line == "" {
		return
	}
	name, text, found := strings.Cut(strings.TrimPrefix(line, "["), "]")
	if !found || line[0] != '[' {
		name, text = "", line
	}
	name, text = strings.ToUpper(strings.Trim(name, blanks)), strings.Trim(text, blanks)
	if last := len(f.Keywords) - 1; name == "MORE" && last >= 0 {
		f.Keywords[last].Text += "\n" + text
		return
	}
	f.Keywords = append(f.Keywords, Keyword{name, text})
}

func (f *File) readTilt(s *scanner, tilt string, at fault.Place) bool {
	switch strings.ToUpper(tilt) {
	case "NONE":
		return true
	case "INCLUDE":
		f.Tilt = includedTilt(s)
		return !s.failed()
	}
	s.faults = fault.List{{Place: at, Text: "the tilt factors stand in another file, which is not read", Read: "TILT=" + tilt,
		Allowed: "TILT=NONE or TILT=INCLUDE", Hint: "put that file's lines below TILT=INCLUDE"}}
	return false
}

// includedTilt reads lamp-to-luminaire geometry, count, angles and factors.
func includedTilt(s *scanner) *Tilt {
	const most = 1000
	g, gAt, ok := s.number("the lamp-to-luminaire geometry")
	if !ok {
		return nil
	}
	c, cAt, ok := s.number("the count of tilt angles")
	if !ok {
		return nil
	}
	t := &Tilt{Geometry: s.whole(g, gAt, "the lamp-to-luminaire geometry", 1, 3)}
	n := s.whole(c, cAt, "the count of tilt angles", 1, most)
	if s.failed() || !s.enough(cAt, 2*n, "tilt values") {
		return nil
	}
	for _, a := range s.angles(s.number, n, "tilt angle", 0, 180) {
		t.Angles = append(t.Angles, unit.Degree(a))
	}
	for i := range n {
		k, at, ok := s.number(fmt.Sprintf("tilt factor %d of %d", i+1, n))
		if !ok {
			break
		}
		if k < 0 || k > 100 {
			s.fail(at, "a tilt factor is not possible", fmt.Sprint(k), "0 to 100")
		}
		t.Factors = append(t.Factors, k)
	}
	return t
}

// header is the thirteen numbers before the angles.
type header struct {
	lamps                int
	lumens, watts        float64
	factor               float64 // all multipliers together
	generation           float64
	vertical, horizontal int
	kind                 Type
	size                 [3]float64 // width, length, height in metres, with LM-63's signs
}

var headerNames = [...]string{"the number of lamps", "the lumens per lamp", "the candela multiplier",
	"the number of vertical angles", "the number of horizontal angles", "the photometric type", "the units type",
	"the width", "the length", "the height", "the ballast factor", "the ballast-lamp factor", "the input watts"}

func readHeader(s *scanner, edition string) (header, bool) {
	var x [len(headerNames)]float64
	var at [len(headerNames)]fault.Place
	for i, name := range headerNames {
		ok := false
		if x[i], at[i], ok = s.number(name); !ok {
			return header{}, false
		}
	}
	positive := func(i int, what string) float64 {
		if x[i] <= 0 {
			s.fail(at[i], what+" is not possible", fmt.Sprint(x[i]), "above 0")
		}
		return x[i]
	}
	h := header{lumens: x[1], watts: x[12]}
	h.lamps = s.whole(x[0], at[0], headerNames[0], 0, 1e6)
	if x[1] < 0 && x[1] != -1 {
		s.fail(at[1], "the lumens per lamp are not possible", fmt.Sprint(x[1]), "0 or more, or -1 for absolute photometry")
	}
	h.factor = positive(2, headerNames[2]) * positive(10, headerNames[10])
	// LM-63-2019 put the file generation type where older editions have a factor.
	if edition == "2019" {
		h.generation = x[11]
	} else {
		h.factor *= positive(11, headerNames[11])
	}
	if x[12] < 0 {
		s.fail(at[12], "the input watts are not possible", fmt.Sprint(x[12]), "0 or more")
	}
	h.vertical, h.horizontal = s.counts(x[3], x[4], at[3])
	if !s.failed() {
		s.enough(at[3], h.vertical*h.horizontal+h.vertical+h.horizontal, "angles and intensities")
	}
	h.kind = [...]Type{TypeC, TypeB, TypeA}[s.whole(x[5], at[5], headerNames[5], 1, 3)-1]
	scale := [...]float64{foot, 1}[s.whole(x[6], at[6], headerNames[6], 1, 2)-1]
	for i := range h.size {
		h.size[i] = x[7+i] * scale
	}
	return h, !s.failed()
}

// readTable reads angles and intensities, with all multipliers applied.
func (f *File) readTable(s *scanner, h header) {
	limits := map[Type][4]float64{ // vertical from and to, horizontal from and to
		TypeC: {0, 180, 0, 360}, TypeB: {-180, 180, -90, 90}, TypeA: {-90, 90, -180, 180},
	}[h.kind]
	v := s.angles(s.number, h.vertical, "vertical angle", limits[0], limits[1])
	if s.failed() {
		return
	}
	at := s.place(s.pos)
	hor := s.angles(s.number, h.horizontal, "horizontal angle", limits[2], limits[3])
	if s.failed() {
		return
	}
	var allowed string
	if h.kind == TypeC {
		f.Symmetry, allowed = symmetryC(hor)
	} else {
		f.Symmetry, allowed = symmetryAB(hor)
	}
	if allowed != "" {
		read := fmt.Sprintf("%d angles from %g to %g", len(hor), hor[0], hor[len(hor)-1])
		s.fail(at, "the horizontal angles are none of type "+string(h.kind), read, allowed)
		return
	}
	cd := s.intensities(s.number, h.horizontal, h.vertical, h.factor)
	s.surplus()
	if s.failed() {
		return
	}
	if f.Table = newTable(h.kind, f.Symmetry, hor, v, cd); f.Table == nil {
		s.fail(at, "the file holds no light: every intensity is zero", "", "")
	}
}

// symmetryC returns the symmetry that the range of horizontal angles spells, or what would be allowed.
func symmetryC(h []float64) (s Symmetry, allowed string) {
	first, last := h[0], h[len(h)-1]
	switch {
	case first == 0 && last == 0:
		return Axial, ""
	case first == 0 && last == 90:
		return Quadrant, ""
	case first == 0 && last == 180:
		return AboutC0, ""
	case first == 90 && last == 270: // LM-63-1995 only, but it can mean nothing else
		return AboutC90, ""
	case first == 0 && last > 180:
		return None, ""
	}
	return "", "0 alone, 0 to 90, 0 to 180, 0 to 360, or 90 to 270"
}

// symmetryAB returns that of types A and B: angles that begin at 0 are the right half.
func symmetryAB(h []float64) (s Symmetry, allowed string) {
	switch {
	case len(h) < 2:
		return "", "two angles or more"
	case h[0] == 0:
		return LeftRight, ""
	}
	return None, ""
}
