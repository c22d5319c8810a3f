package scene

import (
	"gloam/internal/document"
	"gloam/internal/geometry"
	"gloam/internal/plan"
)

// offSkin is how far a person's points lie off the skin, m.
const offSkin = 0.10

// figure is a person in their place.
type figure struct {
	body    geometry.Person
	basis   geometry.Basis // X to their right, Y where they look, Z up
	feet    geometry.Vector
	keyLeft bool
}

// figure places a person. The key side is the one stated, or the side of the lamp marked key.
func (b *builder) figure(path document.Path, name string, p *plan.Person) figure {
	f := figure{
		body: geometry.Person{Height: float64(*p.Height), Face: float64(or(p.Face, 0))},
		feet: b.where(path, &p.At, 0),
	}
	look := b.toward(document.Path("people").Join(name).Join("faces"), &p.Faces, f.feet, true)
	f.basis = geometry.Basis{X: look.Cross(geometry.Up), Y: look, Z: geometry.Up}
	f.keyLeft = p.Key == "left"
	if p.Key == "" {
		for _, l := range b.view.Document.Lamps {
			if l.Value.Key {
				lamp := b.where(document.Path("lamps").Join(l.Name).Join("at"), &l.Value.At, l.Value.Height)
				f.keyLeft = lamp.Sub(f.feet).Dot(f.basis.X) < 0
			}
		}
	}
	return f
}

func (f *figure) out(local geometry.Vector) geometry.Vector { return f.feet.Add(f.basis.Out(local)) }

// face is the middle of the face's skin.
func (f *figure) face() geometry.Vector { return f.out(f.body.Front()) }

// point returns where one of the person's four points is and what it faces.
func (f *figure) point(name string) (at, facing geometry.Vector, ok bool) {
	left := name == plan.KeySide && f.keyLeft || name == plan.ShadowSide && !f.keyLeft
	var skin geometry.Vector
	switch {
	case name == plan.Front:
		skin, facing = f.body.Front(), geometry.Vector{Y: 1}
	case name == plan.Hair:
		skin, facing = f.body.Hair(), geometry.Up
	case name != plan.KeySide && name != plan.ShadowSide:
		return at, facing, false
	case left:
		skin, facing = f.body.Left(), geometry.Vector{X: -1, Y: 1}.Unit()
	default:
		skin, facing = f.body.Right(), geometry.Vector{X: 1, Y: 1}.Unit()
	}
	return f.out(skin.AddMul(offSkin, facing)), f.basis.Out(facing), true
}

// chin is how far below the middle of the face skin ends and clothes begin, as a share of the height.
const chin = 0.09

func (b *builder) people() {
	walking := map[string]bool{}
	for _, w := range b.view.Document.Walks {
		walking[w.Value.Who] = true
	}
	for i := range b.view.Document.People {
		name, p := b.view.Document.People[i].Name, &b.view.Document.People[i].Value
		f := b.figure(document.Path("people").Join(name), name, p)
		if walking[name] {
			continue
		}
		mesh := f.body.Mesh()
		neck := f.body.Front().Z - chin*f.body.Height
		skin, clothes := mesh, mesh
		skin.Triangles, clothes.Triangles = nil, nil
		for _, t := range mesh.Triangles {
			if (mesh.Positions[t[0]].Z+mesh.Positions[t[1]].Z+mesh.Positions[t[2]].Z)/3 > neck {
				skin.Triangles = append(skin.Triangles, t)
			} else {
				clothes.Triangles = append(clothes.Triangles, t)
			}
		}
		b.add(name, skin.Transform(f.basis, f.feet, 1), b.material(document.Path("people").Join(name).Join("skin"), p.Skin))
		b.add(name+" clothes", clothes.Transform(f.basis, f.feet, 1), b.material(document.Path("people").Join(name).Join("wears"), p.Wears))
	}
}
