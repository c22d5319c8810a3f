package scene

import (
	"fmt"
	"math"
	"slices"

	"gloam/internal/document"
	"gloam/internal/exposure"
	"gloam/internal/geometry"
	"gloam/internal/plan"
	"gloam/internal/unit"
)

// camera takes over what sets the key, and where the lens is if the plan says so.
func (b *builder) camera() {
	c := b.view.Document.Camera
	if c == nil {
		b.fail("camera", "a camera is needed: it sets the key", "", "ei, fps, shutter and stop")
		return
	}
	b.setup.Camera = exposure.Camera{EI: c.EI, FPS: c.FPS, Shutter: c.Shutter, Stop: c.Stop, ND: c.ND.NominalStops(),
		Constant: unit.LuxSecond(*c.Constant)}
	b.balance(c)
	if mains := b.view.Document.Supply.Mains; mains != nil {
		b.setup.Mains = *mains
	}
	if b.view.Document.Time != nil {
		b.setup.Clock = b.view.Document.Time.String()
	}
}

// lens places the lens once everything it may look at has a place.
func (b *builder) lens() {
	c := b.view.Document.Camera
	if c == nil || c.At == nil || c.Aim == nil {
		return
	}
	at := b.where("camera.at", c.At, c.Height)
	way := b.way("camera.aim", c.Aim, at)
	v := &View{At: at, Basis: geometry.About(way.Unit()), Focal: float64(*c.Lens), Focus: way.Length()}
	v.Width, v.Height = size2(*c.Sensor)
	if c.Focus != nil {
		v.Focus = float64(*c.Focus)
	}
	if c.Focus != nil || c.Aim.Bearing == nil { // aimed along a bearing alone, the lens is focused on nothing: all is sharp
		v.Aperture = v.Focal / float64(c.Stop) // the f-number is a little below the T-stop: a little less blur than true
	}
	b.setup.View = v
}

// receive puts a receiver into the scene and returns its number.
func (b *builder) receive(r Receiver) int {
	b.setup.Scene.Receivers = append(b.setup.Scene.Receivers, r)
	return len(b.setup.Scene.Receivers) - 1
}

// points are those of every person, then the plan's own.
func (b *builder) points() {
	b.lens()
	for i := range b.view.Document.People {
		name := b.view.Document.People[i].Name
		use := PersonUse{Name: name}
		for _, point := range plan.PersonPoints() {
			r, ok := b.receiver(plan.Name{Thing: name, Point: point})
			if !ok {
				continue // told of the person
			}
			switch point {
			case plan.KeySide:
				use.Key = len(b.setup.Points)
			case plan.ShadowSide:
				use.Shadow = len(b.setup.Points)
			}
			b.setup.Points = append(b.setup.Points, PointUse{Name: r.Name, Receiver: b.receive(r)})
		}
		b.setup.People = append(b.setup.People, use)
	}
	for i := range b.view.Document.Points {
		name := b.view.Document.Points[i].Name
		if r, ok := b.receiver(plan.Name{Thing: name}); ok {
			use := PointUse{Name: name, Receiver: b.receive(r)}
			b.setup.Points = append(b.setup.Points, use)
		}
	}
}

// receiver returns the receptor of a metering point by name: a person's or the plan's own.
func (b *builder) receiver(n plan.Name) (Receiver, bool) {
	if n.Point != "" {
		at, facing, ok := b.places.PersonPoint(n)
		return Receiver{Name: n.String(), Kind: Flat, Position: at, Normal: facing}, ok
	}
	p, ok := b.view.Document.Points.Get(n.Thing)
	if !ok {
		return Receiver{}, false
	}
	path := document.Path("points").Join(n.Thing)
	r := Receiver{Name: n.Thing, Kind: receptor(p.Receptor), Position: b.meter(path.Join("at"), &p.At, p.Height), Normal: geometry.Up}
	if r.Kind == Spot {
		if b.setup.View == nil {
			b.fail(path, "a spot looks from the camera, and the camera has no place", "", "camera: at and aim")
			return r, true
		}
		at := r.Position
		r.Position = b.setup.View.At
		r.Normal = at.Sub(r.Position).Unit()
		return r, true
	}
	if p.Faces != nil {
		r.Normal = b.toward(path.Join("faces"), p.Faces, r.Position)
	}
	return r, true
}

// walks are lines of points, evenly spaced from the first mark to the last.
func (b *builder) walks() {
	for i := range b.view.Document.Walks {
		w := &b.view.Document.Walks[i]
		b.walk(document.Path("walks").Join(w.Name), w.Name, &w.Value)
	}
}

func (b *builder) walk(path document.Path, name string, w *plan.Walk) {
	marks := make([]geometry.Vector, len(w.Marks))
	for i := range w.Marks {
		marks[i] = b.where(path.Join("marks"), &w.Marks[i], 0)
	}
	use := WalkUse{Name: name}
	along := 0.0
	for i := 1; i < len(marks); i++ {
		leg := marks[i].Sub(marks[i-1])
		length := leg.Length()
		if length == 0 {
			continue // a rest
		}
		steps := max(1, int(math.Ceil(length/float64(*w.Every)-1e-9)))
		for s := range steps + 1 {
			if s == 0 && len(use.Along) > 0 {
				continue // the mark between two legs stands once
			}
			at := marks[i-1].Lerp(marks[i], float64(s)/float64(steps)).AddMul(float64(*w.Height), geometry.Up)
			facing := geometry.Vector{X: leg.X, Y: leg.Y}.Unit()
			if w.Faces != nil {
				facing = b.toward(path.Join("faces"), w.Faces, at)
			} else if facing == (geometry.Vector{}) {
				b.fail(path, "the way leads straight up, so that it says not what the receptor faces", "", "faces: a thing or a bearing")
			}
			distance := along + length*float64(s)/float64(steps)
			use.Along = append(use.Along, unit.Metre(distance))
			use.Receivers = append(use.Receivers, b.receive(Receiver{
				Name: fmt.Sprintf("%s %.2f m", name, distance), Kind: receptor(w.Receptor), Position: at, Normal: facing}))
		}
		along += length
	}
	b.setup.Walks = append(b.setup.Walks, use)
}

func (b *builder) targets() {
	b.setup.Expose = -1
	if c := b.view.Document.Camera; c != nil {
		b.setup.Expose = b.pointOf(c.Expose)
	}
	for _, t := range b.view.Document.Targets {
		if use, ok := b.target(&t); ok {
			b.setup.Targets = append(b.setup.Targets, use)
		}
	}
}

// target finds what a target is about; ok is false where the set-up does not use it.
func (b *builder) target(t *plan.Target) (use TargetUse, ok bool) {
	use = TargetUse{Point: -1, Walk: -1, Over: OverKey, By: t.By, Tolerance: *t.Tolerance, Bound: Bound(t.Bound), Weight: t.Weight}
	switch {
	case t.Walk != "":
		use.Wanted = *t.Swing
		use.Walk = slices.IndexFunc(b.setup.Walks, func(w WalkUse) bool { return w.Name == t.Walk })
		return use, use.Walk >= 0
	case len(t.Across) > 0:
		use.Wanted = *t.Swing
		for _, point := range t.Across {
			use.Across = append(use.Across, b.pointOf(point))
		}
		return use, !slices.Contains(use.Across, -1)
	}
	use.Point = b.pointOf(t.Point)
	if t.Mired != nil {
		use.Colour = &ColourWish{*t.Mired, *t.Within}
		return use, use.Point >= 0
	}
	use.Wanted = *t.Level
	switch t.Over {
	case plan.OverKey:
	case plan.OverAmbient:
		use.Over = OverAmbient
	default:
		if use.Over = b.pointOf(t.Over); use.Over < 0 {
			return use, false
		}
	}
	return use, use.Point >= 0
}

// pointOf finds a metering point as it is written; -1 when the set-up does not use it.
func (b *builder) pointOf(text string) int {
	name := plan.ParseName(text).String()
	for i, p := range b.setup.Points {
		if p.Name == name {
			return i
		}
	}
	return -1
}

func (b *builder) tones() {
	for i := range b.view.Document.Tones {
		t := &b.view.Document.Tones[i]
		path := document.Path("tones").Join(t.Name)
		rho, _, err := reflectance(&b.view.Document, t.Value.Material)
		if err != nil {
			b.failed(path.Join("material"), err)
			continue
		}
		if point := b.pointOf(t.Value.In); point >= 0 {
			b.setup.Tones = append(b.setup.Tones, ToneUse{t.Name, t.Value.Material, rho, point})
		}
	}
}
