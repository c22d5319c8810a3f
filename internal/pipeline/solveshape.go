package pipeline

import (
	"errors"
	"math"
	"slices"
	"strings"

	"gloam/internal/document"
	"gloam/internal/geometry"
	"gloam/internal/plan"
	"gloam/internal/scene"
	"gloam/internal/transport"
	"gloam/internal/unit"
)

// shaped is a world with lamps of other shapes at their places.
type shaped struct {
	setup  *scene.Setup
	layers *transport.Layers
}

// shapes follows the light of each lamp's other shapes along the world's kept walks: the first is the world as it is.
func (s *solver) shapes(w *world, stands []stand) ([]shaped, error) {
	all := []shaped{{w.setup, w.layers}}
	most := 0
	for i := range stands {
		for _, o := range stands[i].outfits {
			most = max(most, o.shape)
		}
	}
	for n := 1; n <= most; n++ {
		var changes []plan.Change
		for i := range stands {
			if k := slices.IndexFunc(stands[i].outfits, func(o outfit) bool { return o.shape == n && !o.off }); k >= 0 {
				for _, c := range stands[i].outfits[k].changes {
					if !strings.HasSuffix(string(c.Path), ".mode") {
						changes = append(changes, c)
					}
				}
			}
		}
		view, err := w.view.With(changes...)
		if err != nil {
			return nil, err
		}
		setup, err := s.session.build(s.ctx, view, s.Options)
		if err != nil {
			return nil, err
		}
		moved, same := movedLamps(w.setup.Scene, setup.Scene)
		if !same {
			return nil, errors.New("a lamp of another shape changes what stands in the light")
		}
		q := s.session.request(setup, s.Options)
		q.Goal, q.LayerGoal, q.Progress = draftGoal, 0, nil
		layers, err := w.layers.Moved(s.ctx, setup.Scene, moved, q)
		if err != nil {
			return nil, unfinished(err)
		}
		all = append(all, shaped{setup, layers})
		s.tell(0.5 * float64(n) / float64(most))
	}
	return all, nil
}

// softness is how large a lamp's light looks from a point: the nearest cloth that most of it met, or the lamp's own opening.
func softness(at shaped, emitter, receiver int, cloths document.Named[plan.Cloth]) unit.Degree {
	p := &at.layers.Points[receiver]
	from := at.setup.Scene.Receivers[receiver].Position
	e := &at.setup.Scene.Emitters[emitter]
	side, distance := math.Sqrt(math.Pi)*e.Form.Radius, e.Centre.Sub(from).Length()
	if e.Form.Width > 0 {
		side = math.Sqrt(e.Form.Width * e.Form.Height)
	}
	all := 0.0
	for _, c := range at.setup.Scene.ColumnsOf(emitter) {
		for _, x := range p.Response[c] {
			all += x / float64(len(p.Response[c]))
		}
	}
	nearest := math.Inf(1)
	for i, name := range at.setup.Scene.Cloths {
		cloth, ok := cloths.Get(name)
		if !ok || all <= 0 || p.Via[emitter][i] < all/2 {
			continue
		}
		if d := middleOf(at.setup.Scene, name).Sub(from).Length(); d < nearest {
			nearest, side, distance = d, math.Sqrt(float64(cloth.Size.Width*cloth.Size.Height)), d
		}
	}
	return unit.Degree(2 * math.Atan(side/2/math.Max(distance, 0.01)) * 180 / math.Pi)
}

// middleOf is the middle of a thing's surfaces.
func middleOf(s *scene.Scene, name string) (middle geometry.Vector) {
	n := 0.0
	for i := range s.Surfaces {
		if s.Surfaces[i].Name == name {
			for _, v := range s.Surfaces[i].Mesh.Positions {
				middle, n = middle.Add(v), n+1
			}
		}
	}
	if n > 0 {
		middle = middle.Mul(1 / n)
	}
	return middle
}
