package gear

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"

	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/photometry"
	"gloam/internal/unit"
)

// What figures of one lamp may differ from each other before it is worth a note.
const (
	fluxSlack  = 0.03           // stated flux against the beam's integral
	fieldSlack = 0.10           // stated field angle against a bell's
	rmsSlack   = unit.Stop(0.1) // levels against the one curve they are fitted by
)

// coldest and hottest bound the colour temperature of a lamp: that of white light with a known spectrum.
const coldest, hottest unit.Kelvin = 1500, 25000

var protection = regexp.MustCompile(`^IP[0-6X][0-9X]$`)

// checkWritten checks what a lamp writes, apart from what it takes from others.
func (r *reader) checkWritten(path document.Path, t *lampText) {
	if r.broken(path, t) {
		return
	}
	if t.forms() > 1 {
		r.tell(path, fault.Fault{Text: "the light is written in more than one way", Allowed: "one of beams, matt, photometry"})
	}
	r.few(path.Join("beams"), len(t.Beams))
	for i := range t.Beams {
		r.checkBeam(r.item(path.Join("beams"), i), &t.Beams[i])
	}
	if m := t.Matt; m != nil {
		r.checkSource(path.Join("matt"), m.Peak, m.Levels)
	}
	if t.Photometry != "" {
		t.file = r.photometric(path.Join("photometry"), t.Photometry)
	}
	if t.Engine != nil && *t.Engine <= 0 {
		r.tell(path.Join("engine"), fault.Fault{Text: "is not above 0"})
	}
	if t.Reference != nil {
		r.checkKelvin(path.Join("reference"), *t.Reference)
	}
	r.checkTables(path, t)
	r.checkFan(path.Join("fan"), t.Fan)
	r.checkPower(path.Join("power"), t.Power)
	if t.IP != "" && t.IP != "none" && !protection.MatchString(t.IP) {
		r.tell(path.Join("ip"), fault.Fault{Text: "is no ingress protection", Read: t.IP, Allowed: "IP20, IP54, IPX4, none"})
	}
}

// item returns the path of item i of a list, or the list's own where a single value stands for it.
func (r *reader) item(list document.Path, i int) document.Path {
	if item := list.Item(i); r.places.At(item) != r.places.At(list) {
		return item
	}
	return list
}

// most is how many rows a list of one lamp may have: far more than any has, and few enough to be read at once.
const most = 100

func (r *reader) few(path document.Path, rows int) {
	if rows > most {
		r.tell(path, fault.Fault{Text: "has too many rows", Read: fmt.Sprint(rows), Allowed: fmt.Sprintf("up to %d", most)})
	}
}

// checkSource checks that an intensity is stated in one of two ways.
func (r *reader) checkSource(path document.Path, peak *unit.Candela, levels []unit.LuxAt) {
	r.few(path.Join("levels"), len(levels))
	switch {
	case !r.clean(path, "peak", "levels"):
	case peak == nil && levels == nil:
		r.tell(path, fault.Fault{Text: "how strong it is is missing", Allowed: "peak or levels"})
	case peak != nil && levels != nil:
		r.tell(path, fault.Fault{Text: "how strong it is is written twice", Allowed: "peak or levels"})
	case peak != nil && *peak <= 0:
		r.tell(path.Join("peak"), fault.Fault{Text: "is not above 0"})
	}
}

// checkBeam checks one beam and fits its levels.
func (r *reader) checkBeam(path document.Path, b *beamText) {
	if r.broken(path, b) {
		return
	}
	if r.clean(path, "beam") && !(b.Beam > 0 && b.Beam <= 180) {
		r.tell(path.Join("beam"), fault.Fault{Text: "is not possible", Read: b.Beam.String(), Allowed: "above 0 to 180°"})
	}
	r.checkSource(path, b.Peak, b.Levels)
	if !r.clean(path) {
		return
	}
	if b.Peak != nil {
		b.peak = *b.Peak
	} else if !r.fit(path.Join("levels"), b) {
		return
	}
	r.noteFlux(path, b.Flux, photometry.Bell(b.peak, b.Beam).Flux())
	if b.Field != nil && *b.Field > 0 {
		bell := float64(b.Beam) * math.Sqrt(math.Log2(10))
		if math.Abs(float64(*b.Field)/bell-1) > fieldSlack {
			r.note(path.Join("field"), "a bell of this beam has a field of %s: off the axis the lamp differs from the plan", unit.Degree(bell))
		}
	}
}

// fit finds peak and offset from the levels.
func (r *reader) fit(path document.Path, b *beamText) bool {
	rows := make([]photometry.LuxAt, len(b.Levels))
	for i, l := range b.Levels {
		rows[i] = photometry.LuxAt{Distance: l.Distance, Lux: l.Level}
	}
	var rms unit.Stop
	var err error
	b.peak, b.offset, rms, err = photometry.FitDistances(rows)
	if err != nil {
		r.tellAll(path, err)
		return false
	}
	r.noteRMS(path, rms)
	near := slices.MinFunc(b.Levels, func(a, b unit.LuxAt) int { return cmp.Compare(a.Distance, b.Distance) }).Distance
	if math.Abs(float64(b.offset)) > float64(near)/2 {
		r.note(path, "the light seems to come from %s behind the front: is every level from one setting?", b.offset)
	}
	return true
}

func (r *reader) noteRMS(path document.Path, rms unit.Stop) {
	if rms > rmsSlack {
		r.note(path, "the levels stray %.2f stop rms from one curve", rms)
	}
}

// noteFlux notes a stated flux that is not the integral of the intensities.
func (r *reader) noteFlux(path document.Path, stated *unit.Lumen, integral unit.Lumen) {
	if stated != nil && math.Abs(float64(integral / *stated)-1) > fluxSlack {
		r.note(path.Join("flux"), "the beam adds up to %s, not %s", integral, *stated)
	}
}

func (r *reader) checkKelvin(path document.Path, k unit.Kelvin) {
	if k < coldest || k > hottest {
		r.tell(path, fault.Fault{Text: "is not white", Read: fmt.Sprintf("%.0f K", float64(k)), Allowed: "1500 K to 25000 K"})
	}
}

func (r *reader) checkFan(path document.Path, f *fanText) {
	switch {
	case f == nil:
	case (f.Quiet == nil) != (f.Most == nil):
		if r.clean(path, "quiet", "most") {
			r.tell(path, fault.Fault{Text: "a quiet mode needs both its noise and its most light", Allowed: "quiet and most"})
		}
	case f.Most != nil && *f.Most == 0:
		r.tell(path.Join("most"), fault.Fault{Text: "is not above 0"})
	}
}

func (r *reader) checkPower(path document.Path, p *powerText) {
	if p == nil {
		return
	}
	if p.Full != nil && (*p.Full <= 0 || p.Standby != nil && *p.Full < *p.Standby) {
		r.tell(path.Join("full"), fault.Fault{Text: "is not above 0 and the standby", Read: p.Full.String()})
	}
	if p.Factor != nil && *p.Factor == 0 {
		r.tell(path.Join("factor"), fault.Fault{Text: "is not above 0"})
	}
}
