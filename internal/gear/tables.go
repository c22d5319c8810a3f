package gear

import (
	"fmt"

	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/unit"
)

// checkTables checks output against colour temperature and light against the control.
func (r *reader) checkTables(path document.Path, t *lampText) {
	output, dim := path.Join("output"), path.Join("dim")
	r.few(output, len(t.Output))
	r.few(dim, len(t.Dim))
	for _, e := range t.Output {
		k, ok := key[unit.Kelvin](r, output.Join(e.Name), e.Name)
		if ok {
			r.checkKelvin(output.Join(e.Name), k)
		}
		if e.Value == 0 && r.clean(output.Join(e.Name)) {
			r.tell(output.Join(e.Name), fault.Fault{Text: "is not above 0"})
		}
	}
	if r.clean(output) && len(t.Output) > 0 && !outputCurve(t.Output).sort() {
		r.tell(output, fault.Fault{Text: "a colour temperature stands twice"})
	}
	for _, e := range t.Dim {
		key[unit.Fraction](r, dim.Join(e.Name), e.Name)
	}
	if r.clean(dim) && len(t.Dim) > 0 {
		r.checkDim(dim, dimCurve(t.Dim))
	}
}

func (r *reader) checkDim(path document.Path, c curve) {
	if !c.sort() {
		r.tell(path, fault.Fault{Text: "a level stands twice"})
		return
	}
	if c[0].y != 0 || c[len(c)-1].y != 1 {
		r.tell(path, fault.Fault{Text: "does not run from no light at 0 % to all at 100 %"})
	}
	for i := 1; i < len(c); i++ {
		if c[i].y < c[i-1].y {
			r.tell(path, fault.Fault{Text: fmt.Sprintf("the light falls from %s to %s", unit.Fraction(c[i-1].x), unit.Fraction(c[i].x)),
				Allowed: "more light for a higher level"})
		}
	}
}

// key reads the name of a table's row as a quantity.
func key[T any, P interface {
	*T
	document.Text
}](r *reader, path document.Path, name string) (T, bool) {
	var value T
	if err := P(&value).Parse(name); err != nil {
		r.tell(path, fault.Fault{Text: err.Error(), Read: name, Allowed: P(&value).Forms()})
		return value, false
	}
	return value, true
}

// outputCurve returns the table of output against mired, unsorted; its names have been checked.
func outputCurve(table document.Named[unit.Fraction]) curve {
	var c curve
	for _, e := range table {
		var k unit.Kelvin
		_ = k.Parse(e.Name)
		c = append(c, point{float64(k.Mired()), float64(e.Value)})
	}
	return c
}

// dimCurve returns the table of light against the control, unsorted, with 0 % at 0 % and 100 % at 100 % where these are not
// written; its names have been checked. Without a table light is in proportion.
func dimCurve(table document.Named[unit.Fraction]) curve {
	var c curve
	var bottom, top bool
	for _, e := range table {
		var dim unit.Fraction
		_ = dim.Parse(e.Name)
		c = append(c, point{float64(dim), float64(e.Value)})
		bottom, top = bottom || dim == 0, top || dim == 1
	}
	if !bottom {
		c = append(c, point{0, 0})
	}
	if !top {
		c = append(c, point{1, 1})
	}
	return c
}
