package photometry

import (
	"fmt"

	"gloam/internal/fault"
)

// foot is the international foot, in metres.
const foot = 0.3048

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
