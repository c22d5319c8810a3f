package scene

import (
	"bytes"

	"gloam/internal/document"
	"gloam/internal/gear"
	"gloam/internal/geometry"
	"gloam/internal/photometry"
	"gloam/internal/plan"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

func (b *builder) lamps() {
	for i := range b.view.Document.Lamps {
		l := &b.view.Document.Lamps[i]
		b.lamp(document.Path("lamps").Join(l.Name), l.Name, &l.Value)
	}
}

// emit puts an emitter with its dial into the scene, under a source of its own.
func (b *builder) emit(e Emitter, d Dial, s Source) int {
	id := len(b.setup.Scene.Emitters)
	s.Emitters = []int{id}
	if e.Kind == Lamp {
		s.Doubts = append(s.Doubts, b.doubtOfHaze(&e)...)
	}
	b.setup.Scene.Emitters = append(b.setup.Scene.Emitters, e)
	b.setup.Dials = append(b.setup.Dials, d)
	b.setup.Sources = append(b.setup.Sources, s)
	return id
}

func (b *builder) lamp(path document.Path, name string, l *plan.Lamp) {
	kit, ok := b.view.Kit.Lamp(l.Kit)
	if !ok && (l.Kit != "" || l.Photometry == "") {
		b.fail(path.Join("kit"), "no such lamp", l.Kit, "a lamp of the kit")
		return
	}
	at := b.where(path.Join("at"), &l.At, l.Height)
	axis := b.toward(path.Join("aim"), &l.Aim, at)
	e := Emitter{Name: name, Source: name, Kind: Lamp, Centre: at, Basis: geometry.About(axis).Roll(l.Roll.Radians())}
	b.shine(path, &e, l, kit)

	use := LampUse{Name: name, Kit: kit, Dim: *l.Dim, MaxDim: 1, Output: 1}
	figures := b.strength(path, l, &use)
	if use.Dim > use.MaxDim {
		b.fail(path.Join("dim"), "the head can't give that in this mode", use.Dim.String(), "up to "+use.MaxDim.String())
	}
	dial := Dial{Level: use.Level(use.Dim), Light: b.lampLight(path, l, kit), Gel: b.gel(path.Join("gel"), l.Gel)}
	use.Emitter = b.emit(e, dial, Source{Name: name, Doubts: []Doubt{
		figures, {"distance of " + name, gear.DistanceDoubt}, {"dim of " + name, gear.DimDoubt}}})
	b.ripples(use.Emitter, l.Ripple)
	b.setup.Lamps = append(b.setup.Lamps, use)
}

// strength sets what a lamp gives at its colour and in its mode, and returns what is not known of its figures. These belong
// to the kit item, so that two of a kind err together. Where a photometric file is all that is known of a lamp, it gives
// the same at any colour and counts as a data sheet.
func (b *builder) strength(path document.Path, l *plan.Lamp, use *LampUse) (figures Doubt) {
	if use.Kit == nil {
		return Doubt{"figures of " + l.Photometry, gear.Sheet.LampDoubt()}
	}
	use.MaxDim = use.Kit.MaxDim(l.Mode)
	var err error
	if use.Output, err = use.Kit.Output(*l.Colour); err != nil {
		b.failed(path.Join("colour"), err)
	}
	return Doubt{"figures of " + use.Kit.Name, use.Kit.Quality.LampDoubt()}
}

// shine gives a lamp its beam and its opening: the kit's, or a photometric file's in place of the kit's beam. Without a
// kit item the opening is the file's too.
func (b *builder) shine(path document.Path, e *Emitter, l *plan.Lamp, kit *gear.Lamp) {
	var err error
	var offset unit.Metre
	if l.Photometry != "" {
		var file *photometry.File
		if file, err = photometry.ReadFile(l.Photometry, bytes.NewReader(b.view.Files[l.Photometry])); err == nil {
			e.Beam, e.Form = beamOf(file), fileForm(file.Opening)
		}
		path = path.Join("photometry")
	} else if e.Beam, offset, err = kit.Beam(l.Zoom); err != nil {
		path = path.Join("zoom")
	}
	if err != nil {
		b.failed(path, err)
		e.Beam = photometry.Isotropic(0)
	}
	e.Offset = float64(offset)
	if kit != nil {
		b.kitForm(e, kit)
	}
	if e.Beam != nil && behind(e.Beam) > mostBehind {
		e.Form, e.Offset = Form{Shape: Globe, Radius: max(e.Form.Radius, (e.Form.Width+e.Form.Height)/4, leastOpening/2)}, 0
	}
}

// mostBehind is the share of a lamp's light that may leave behind its opening and be taken as noise of its figures. With
// more, the opening is taken as a globe that shines all round.
const mostBehind = 0.01

// behind is the share of a beam's light that leaves against its axis, by its own samples.
func behind(beam photometry.Distribution) float64 {
	const side = 64
	var back, all float64
	for i := range side {
		for j := range side {
			way, pdf := beam.Sample((float64(i)+0.5)/side, (float64(j)+0.5)/side)
			if pdf <= 0 {
				continue
			}
			flux := beam.At(way) / pdf
			all += flux
			if way.Z < 0 {
				back += flux
			}
		}
	}
	if all == 0 {
		return 0
	}
	return back / all
}

// kitForm gives a lamp the opening of its kit item.
func (b *builder) kitForm(e *Emitter, kit *gear.Lamp) {
	o := kit.Opening
	switch o.Shape {
	case gear.Disc:
		e.Form = Form{Shape: Disc, Radius: float64(o.Diameter) / 2}
	case gear.Rectangle:
		e.Form = Form{Shape: Panel, Width: float64(o.Width), Height: float64(o.Height)}
	case gear.Tube:
		e.Form = Form{Shape: Tube, Radius: float64(o.Diameter) / 2, Height: float64(o.Width)}
		luminance, _ := kit.Luminance()
		e.Luminance, e.Beam = float64(luminance), nil
	}
}

// leastOpening stands in for the size of an opening that a file leaves at 0, a point or a line, m.
const leastOpening = 0.01

// fileForm is the opening of a photometric file as it is seen from the axis.
func fileForm(o photometry.Opening) Form {
	width, height := max(float64(o.Length), leastOpening), max(float64(o.Width), leastOpening)
	switch o.Shape {
	case photometry.Rectangle, photometry.Box, photometry.LyingCylinder:
		return Form{Shape: Panel, Width: width, Height: height}
	}
	return Form{Shape: Disc, Radius: height / 2}
}

func (b *builder) gel(path document.Path, text string) spectrum.Curve {
	if text == "" {
		return Clear
	}
	gel, err := b.view.Gel(text)
	if err != nil {
		b.failed(path, err)
		return Clear
	}
	return gel.Curve
}
