package photometry

import (
	"bufio"
	"io"
	"math"
	"strings"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

// WriteEULUMDAT writes a file of type C in EULUMDAT, [STOCKMAR], in Latin-1 and texts of at most 78 characters. The
// opening becomes a rectangle or a circle, the only two it knows; direct ratios are left 0, since they are not computed;
// a table without lamp flux is written for its own flux and marked absolute. Types A and B would have to be resampled
// and are refused.
func WriteEULUMDAT(w io.Writer, f *File) error {
	if f.Type != TypeC {
		return fault.Fault{Kind: fault.Call, Text: "EULUMDAT holds type C photometry only", Read: "type " + string(f.Type)}
	}
	out := eulumdatLines{lines{bufio.NewWriter(w)}}
	lamp, absolute := f.LampSet, f.Absolute
	if lamp.LampFlux == 0 {
		lamp.LampFlux, absolute = f.Table.Flux(), true
	}
	isym, c, stored := f.Table.eulumdatPlanes()
	gamma := f.Table.vertical

	out.text(f.keyword("MANUFAC"))
	out.values(float64(indicator(f)), float64(isym), float64(len(c)), step(c), float64(len(gamma)), step(gamma))
	for _, name := range []string{"TEST", "LUMINAIRE", "LUMCAT", "_FILE", "ISSUEDATE"} {
		out.text(f.keyword(name))
	}
	out.opening(f.Opening)
	out.values(100*float64(f.Table.below90()/f.Table.Flux()), 100*float64(f.Table.Flux()/lamp.LampFlux), 1, 0)
	out.values(float64(1 + len(f.Alternatives)))
	for _, s := range append([]LampSet{lamp}, f.Alternatives...) {
		count := float64(s.LampCount)
		if absolute {
			count = -max(count, 1)
		}
		out.values(count)
		out.text(s.LampType)
		out.values(float64(s.LampFlux))
		out.text(s.Colour)
		out.text(s.Rendering)
		out.values(float64(s.Watts))
	}
	out.values(make([]float64, 10)...)
	out.values(c...)
	out.values(gamma...)
	for _, plane := range f.Table.planesAt(stored) {
		for _, i := range plane {
			out.values(i * 1000 / float64(lamp.LampFlux))
		}
	}
	return out.flush()
}

// eulumdatPlanes returns Isym, the C-angles to list and those of the planes to store: the file's own symmetry where its
// planes stand as Isym demands, else Isym 0.
func (t *Table) eulumdatPlanes() (isym int, listed, stored []float64) {
	isym = map[Symmetry]int{None: 0, Axial: 1, AboutC0: 2, AboutC90: 3, Quadrant: 4}[t.symmetry]
	if isym == 1 {
		return 1, []float64{0}, []float64{0}
	}
	listed = t.allRound()
	if _, stored, wrong := storedPlanes(isym, listed); wrong == "" {
		return isym, listed, stored
	}
	return 0, listed, listed
}

// below90 returns the flux at γ up to 90° of a type C table, strip by strip.
func (t *Table) below90() unit.Lumen {
	g := &t.grid
	sum := 0.0
	for j := range len(g.colat) - 1 {
		a, b := g.colat[j], min(g.colat[j+1], 90)
		if a >= b {
			break
		}
		strip := newGrid(g.lon, []float64{a, b}, make([][]float64, len(g.lon)))
		for i, c := range g.lon {
			strip.cd[i] = []float64{g.at(c, a), g.at(c, b)}
		}
		sum += newSampler(&strip).total
	}
	return unit.Lumen(sum)
}

// indicator returns Ityp: 1 symmetric about the axis, 2 linear, 3 anything else.
func indicator(f *File) int {
	switch {
	case f.Symmetry == Axial:
		return 1
	case f.Opening.Width > 2*f.Opening.Length && f.Symmetry == Quadrant:
		return 2
	}
	return 3
}

// step returns the distance between values that are evenly spaced, else 0.
func step(a []float64) float64 {
	if len(a) < 2 {
		return 0
	}
	d := a[1] - a[0]
	for i := 2; i < len(a); i++ {
		if a[i]-a[i-1] != d {
			return 0
		}
	}
	return d
}

// eulumdatLines writes one value a line.
type eulumdatLines struct{ lines }

func (l *eulumdatLines) text(text string) {
	const longest = 78
	var b strings.Builder
	for i, r := range []rune(text) {
		switch {
		case i == longest:
			l.line(b.String())
			return
		case r == '\n':
			b.WriteByte(' ')
		case r > 255:
			b.WriteByte('?')
		default:
			b.WriteByte(byte(r))
		}
	}
	l.line(b.String())
}

func (l *eulumdatLines) values(values ...float64) {
	for _, x := range values {
		l.numbers(x)
	}
}

// opening writes lines 13 to 21 in millimetres, the luminaire as large as its opening.
func (l *eulumdatLines) opening(o Opening) {
	mm := func(m unit.Metre) float64 { return math.Round(float64(m)*1e6) / 1e3 } // to the micrometre
	length, width, height := mm(o.Width), mm(o.Length), mm(o.Height)
	if o.Shape != Rectangle && o.Shape != Box && o.Width == o.Length {
		width = 0
	}
	l.values(length, width, height, length, width, height, height, height, height)
}
