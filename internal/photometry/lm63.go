package photometry

import (
	"fmt"
	"strings"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

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
