package pipeline

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"gloam/internal/gear"
	"gloam/internal/geometry"
	"gloam/internal/meter"
	"gloam/internal/photometry"
	"gloam/internal/plan"
	"gloam/internal/scene"
	"gloam/internal/solve"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// Sparing is what a lamp has to spare and what that would buy, each alone.
type Sparing struct {
	Surplus solve.Surplus
	Spent   solve.Spent
	Smaller []string // kit items that are strong enough, the least power first
	Words   []string // `could stand 32.5 m off instead of 16.4 m`; none: nothing to be had
}

// worthSaying is the least spare that is put into words for distance and size, in stops.
const worthSaying unit.Stop = 0.1

// Spare returns what a lamp's reserve buys beyond what is to be kept of it, all else as planned, from a set-up and its
// readings; ok is false for a practical and where the lamp has no reserve to speak of. Distance is told where most of its
// light comes straight or through light cloth, size where it comes by a heavy cloth; neither without a target. Neither kit
// nor plan knows of batteries.
func Spare(view *plan.View, r *Result, lamp string, keep unit.Stop) (s Sparing, ok bool) {
	i := slices.IndexFunc(r.Setup.Lamps, func(u scene.LampUse) bool { return u.Name == lamp })
	planned, known := view.Document.Lamps.Get(lamp)
	if i < 0 || !known || r.Levels.Lamps[i].Reserve == nil {
		return s, false
	}
	const most unit.Stop = 60 // beyond, nothing is left that could be said
	u, reading := &r.Setup.Lamps[i], &r.Levels.Lamps[i]
	s.Surplus = solve.Surplus{Reserve: min(*reading.Reserve, keep+most), Keep: keep}
	if reading.Target >= 0 {
		s.place(r, u, r.Setup.Targets[reading.Target].Point, view.Kit)
	}
	if u.Kit != nil && u.MaxDim == 1 && u.Kit.Fan != nil && u.Kit.Fan.Quiet != nil {
		s.Surplus.Quiet = u.Kit.Fan.Quiet.Most
	}
	var smaller []string
	smaller, s.Surplus.Others = smallerLamps(view.Kit, u, *planned.Colour, r.Setup.Scene.Emitters[u.Emitter].Beam)
	s.Spent = solve.Spend(s.Surplus)
	for _, k := range s.Spent.Others {
		s.Smaller = append(s.Smaller, smaller[k])
	}
	s.say(unit.Metre(r.Setup.Scene.Emitters[u.Emitter].Offset))
	return s, true
}

// place fills in where the lamp and what it shines by stand to the point that asks most of it.
func (s *Sparing) place(r *Result, u *scene.LampUse, point int, kit *gear.Kit) {
	sc := r.Setup.Scene
	receiver := r.Setup.Points[point].Receiver
	at, e := sc.Receivers[receiver].Position, &sc.Emitters[u.Emitter]
	if cloth := heavyCloth(r, u.Emitter, receiver, kit); cloth != nil {
		s.Surplus.Frame = unit.Metre(math.Sqrt(cloth.Mesh.Area()))
		s.Surplus.FrameDistance = unit.Metre(centre(cloth.Mesh).Sub(at).Length())
		return
	}
	if !comesStraight(&r.Levels.Points[point], u.Name) {
		return
	}
	off := func(at geometry.Vector) unit.Metre { return unit.Metre(at.Sub(e.Centre).Length() + e.Offset) }
	s.Surplus.Distance = off(at)
	for _, w := range r.Setup.Walks {
		near, far := unit.Metre(math.Inf(1)), unit.Metre(0)
		for _, i := range w.Receivers {
			near, far = min(near, off(sc.Receivers[i].Position)), max(far, off(sc.Receivers[i].Position))
		}
		// Only of a walk that goes straight toward the lamp, within 25°, does distance alone make the swing.
		long := w.Along[len(w.Along)-1] - w.Along[0]
		if far-near > 0.9*long && far-near > s.Surplus.Walk {
			s.Surplus.Walk, s.Surplus.Near = far-near, near
		}
	}
}

// comesStraight reports whether more than half of what a lamp gives a point comes straight. What a spot sees is no light that
// comes to it.
func comesStraight(p *meter.Reading, lamp string) bool {
	for _, s := range p.By {
		if s.Source == lamp && s.Lux != nil {
			return *s.Direct > *s.Lux/2
		}
	}
	return false
}

// heavyCloth returns the heavy cloth nearest to a receiver that more than half of the emitter's light there met; nil: none.
func heavyCloth(r *Result, emitter, receiver int, kit *gear.Kit) (nearest *scene.Surface) {
	sc, p := r.Setup.Scene, &r.Layers.Points[receiver]
	all := 0.0
	for _, c := range sc.ColumnsOf(emitter) {
		for _, x := range p.Response[c] {
			all += x / spectrum.Bands
		}
	}
	least := math.Inf(1)
	for i := range sc.Surfaces {
		f := &sc.Surfaces[i]
		if f.Cloth < 0 || p.Via[emitter][f.Cloth] <= all/2 {
			continue
		}
		c, known := kit.Cloth(r.Setup.ClothKinds[f.Cloth])
		away := centre(f.Mesh).Sub(sc.Receivers[receiver].Position).Length()
		if known && c.Kind == gear.Heavy && away < least {
			least, nearest = away, f
		}
	}
	return nearest
}

// centre is the middle of a mesh's corners.
func centre(m geometry.Mesh) (c geometry.Vector) {
	for _, v := range m.Positions {
		c = c.Add(v.Mul(1 / float64(len(m.Positions))))
	}
	return c
}

// smallerLamps returns the kit items that draw less and can light at least as wide, at the same colour, the least power
// first, and how far the peak of each lies under this lamp's. A spot-to-flood item is set to the same beam, or as near as
// it gets.
func smallerLamps(kit *gear.Kit, u *scene.LampUse, colour unit.Kelvin, light photometry.Distribution) (names []string, under []unit.Stop) {
	if u.Kit == nil || u.Kit.Power == nil || light == nil {
		return nil, nil
	}
	beam := photometry.BeamAngle(light, 0.5)
	full := float64(light.Peak()) * u.Output
	var items []*gear.Lamp
	for _, name := range kit.LampNames() {
		if k, _ := kit.Lamp(name); k.Power != nil && k.Power.Full < u.Kit.Power.Full {
			items = append(items, k)
		}
	}
	slices.SortStableFunc(items, func(a, b *gear.Lamp) int { return cmp.Compare(a.Power.Full, b.Power.Full) })
	for _, k := range items {
		var zoom *unit.Degree
		if spot, flood, zooms := k.Zoom(); zooms {
			at := min(max(beam, spot), flood)
			zoom = &at
		}
		other, _, err := k.Beam(zoom)
		output, colourless := k.Output(colour)
		const slack = 0.98 // beams are stated to a degree or so
		if err != nil || colourless != nil || photometry.BeamAngle(other, 0.5) < slack*beam {
			continue
		}
		names, under = append(names, k.Name), append(under, unit.Stops(full/(float64(other.Peak())*output)))
	}
	return names, under
}

// say puts what is bought into words. The source of light stands offset behind the lamp's front.
func (s *Sparing) say(offset unit.Metre) {
	add := func(format string, values ...any) { s.Words = append(s.Words, fmt.Sprintf(format, values...)) }
	spent, had := &s.Spent, &s.Surplus
	if spent.Spare >= worthSaying && had.Distance > 0 {
		text := fmt.Sprintf("could stand %.1f m off instead of %.1f m", float64(spent.Distance-offset), float64(had.Distance-offset))
		if had.Walk > 0 {
			text += fmt.Sprintf(": alone it would swing %.1f stops along the walk instead of %.1f", float64(spent.Swing), float64(spent.SwingNow))
		}
		add("%s", text)
	}
	if spent.Spare >= worthSaying && had.Frame > 0 {
		add("could fill a cloth of %.1[1]f × %.1[1]f m, %.0[2]f° across instead of %.0[3]f°: softer", float64(spent.Frame), float64(spent.Angle), float64(spent.AngleNow))
	}
	if spent.Quiet {
		add("its quiet mode is enough")
	}
	if len(s.Smaller) > 0 {
		add("a smaller lamp would do: %s", strings.Join(s.Smaller, ", "))
	}
}
