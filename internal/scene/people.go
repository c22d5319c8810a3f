package scene

import (
	"gloam/internal/document"
)

// chin is how far below the middle of the face skin ends and clothes begin, as a share of the height.
const chin = 0.09

func (b *builder) people() {
	walking := map[string]bool{}
	for _, w := range b.view.Document.Walks {
		walking[w.Value.Who] = true
	}
	for i := range b.view.Document.People {
		name, p := b.view.Document.People[i].Name, &b.view.Document.People[i].Value
		path := document.Path("people").Join(name)
		f, ok := b.places.Figure(name)
		if !ok {
			b.fail(path.Join("faces"), noWay+", or straight up or down", p.Faces.String(), "")
		}
		if !ok || walking[name] {
			continue
		}
		mesh := f.Body.Mesh()
		neck := f.Face.Z - f.Feet.Z - chin*f.Body.Height
		skin, clothes := mesh, mesh
		skin.Triangles, clothes.Triangles = nil, nil
		for _, t := range mesh.Triangles {
			if (mesh.Positions[t[0]].Z+mesh.Positions[t[1]].Z+mesh.Positions[t[2]].Z)/3 > neck {
				skin.Triangles = append(skin.Triangles, t)
			} else {
				clothes.Triangles = append(clothes.Triangles, t)
			}
		}
		b.add(name, skin.Transform(f.Basis, f.Feet, 1), b.material(path.Join("skin"), p.Skin))
		b.add(name+" clothes", clothes.Transform(f.Basis, f.Feet, 1), b.material(path.Join("wears"), p.Wears))
	}
}
