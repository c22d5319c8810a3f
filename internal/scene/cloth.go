package scene

import (
	"gloam/internal/document"
	"gloam/internal/geometry"
	"gloam/internal/plan"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// mostCloths is how many pieces of cloth a path can remember.
const mostCloths = 64

func (b *builder) cloths() {
	for i := range b.view.Document.Cloths {
		c := &b.view.Document.Cloths[i]
		if i >= mostCloths {
			b.fail(document.Path("cloths").Join(c.Name), "is one cloth too many", "", "64 pieces of cloth in a set-up")
			return
		}
		b.cloth(document.Path("cloths").Join(c.Name), c.Name, &c.Value)
	}
}

func (b *builder) cloth(path document.Path, name string, c *plan.Cloth) {
	kit, ok := b.view.Kit.Cloth(c.Kind)
	if !ok {
		b.fail(path.Join("kind"), "no such cloth", c.Kind, "a cloth of the kit")
		return
	}
	at := b.where(path.Join("at"), &c.At, c.Height)
	front := b.toward(path.Join("faces"), &c.Faces, at)
	basis := leaned(geometry.About(front), c.Tilt).Roll(-c.Roll.Radians())
	w, h := size2(c.Size)
	b.setup.Scene.Cloths = append(b.setup.Scene.Cloths, name)
	b.setup.ClothKinds = append(b.setup.ClothKinds, kit.Name)
	b.setup.ClothDoubts = append(b.setup.ClothDoubts, kit.Quality.ClothDoubt())
	optics := kit.Optics()
	o := Optics{
		ReflectFront: optics.ReflectFront, ReflectBack: optics.ReflectBack, Transmit: optics.ScatterForward,
		Straight: optics.StraightOn, Spread: optics.Spread.Radians(),
	}
	if b.black {
		o.ReflectBack = spectrum.Band{}
	}
	b.setup.Scene.Surfaces = append(b.setup.Scene.Surfaces, Surface{
		Name: name, Mesh: geometry.Rectangle(at, basis, w, h), Optics: o,
		Cloth: len(b.setup.Scene.Cloths) - 1, Opening: -1,
	})
}

// leaned turns a basis about its level X so that Z points up by so much more.
func leaned(b geometry.Basis, by unit.Degree) geometry.Basis {
	turned := geometry.Basis{X: b.Y, Y: b.Z, Z: b.X}.Roll(by.Radians())
	return geometry.Basis{X: turned.Z, Y: turned.X, Z: turned.Y}
}
