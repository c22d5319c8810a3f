package photometry

import "fmt"

// readPlanes reads the angles and the stored planes.
func (f *File) readPlanes(e eulumdat, l layout, factor float64) {
	listed := make([]float64, l.planes)
	for i := range listed {
		c, at, ok := e.value(fmt.Sprintf("C-angle %d of %d", i+1, l.planes))
		if ok && (c < 0 || c > turn) {
			e.fail(at, "a C-angle is out of range", fmt.Sprint(c), "0 to 360")
		}
		if listed[i] = c; e.failed() {
			return
		}
	}
	gamma := e.angles(e.value, l.gammas, "γ", 0, 180)
	if e.failed() {
		return
	}
	var c []float64
	var allowed string
	if f.Symmetry, c, allowed = storedPlanes(l.isym, listed); allowed != "" {
		e.fail(l.at, fmt.Sprintf("the C-angles do not fit Isym %d", l.isym),
			fmt.Sprintf("%d angles from %g to %g", l.planes, listed[0], listed[l.planes-1]), allowed)
		return
	}
	if !e.enough(l.at, len(c)*l.gammas, "intensities") {
		return
	}
	cd := e.intensities(e.value, len(c), l.gammas, factor)
	e.surplus()
	if e.failed() {
		return
	}
	if f.Table = newTable(TypeC, f.Symmetry, c, gamma, cd); f.Table == nil {
		e.fail(l.at, "the file holds no light: every intensity is zero", "", "")
	}
}

// storedPlanes returns the ascending C-angles of the planes whose intensities a file stores, from those it lists: Mc
// around the whole turn. Isym 3 stores half of them, beginning at C270 and passing C0; a list that itself begins at
// C90 or C270 is taken at its word. Otherwise it says what would be allowed.
func storedPlanes(isym int, listed []float64) (s Symmetry, c []float64, allowed string) {
	mc := len(listed)
	n, start := 0, 0
	switch isym {
	case 0:
		s, n, allowed = None, mc, "ascending angles within one turn"
	case 1:
		return Axial, []float64{0}, ""
	case 2:
		s, n, allowed = AboutC0, mc/2+1, "as many from 0 to 180 as from 180 to 360"
	case 3:
		s, n, allowed = AboutC90, mc/2+1, "as many from 270 through 0 to 90 as from 90 to 270"
		if listed[0] == 0 {
			start = 3 * mc / 4
		}
	case 4:
		s, n, allowed = Quadrant, mc/4+1, "as many in each quarter turn"
	}
	for i := range n {
		a := listed[(start+i)%mc]
		if i > 0 && a <= c[i-1] {
			a += turn
		}
		if i > 0 && (a <= c[i-1] || a > c[0]+turn) {
			return s, nil, allowed
		}
		c = append(c, a)
	}
	first, last := c[0], c[n-1]
	switch {
	case s == AboutC0 && (first != 0 || last != 180),
		s == AboutC90 && (last != first+180 || first != 90 && first != 270),
		s == Quadrant && (first != 0 || last != 90):
		return s, nil, allowed
	}
	return s, c, ""
}
