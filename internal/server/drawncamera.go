package server

import (
	"gloam/internal/document"
	"gloam/internal/geometry"
	"gloam/internal/scene"
	"gloam/internal/unit"
)

// CameraDrawn is the camera and the edges of its field.
type CameraDrawn struct {
	At     Spot       `json:"at"`
	Height unit.Metre `json:"height_m"`
	Edges  []Spot     `json:"edges"`
}

func (d *drawer) camera() {
	v, c := d.setup.View, d.view.Document.Camera
	if v == nil {
		return
	}
	drawn := &CameraDrawn{d.spot(v.At), unit.Metre(v.At.Z), []Spot{}}
	for _, side := range []float64{-1, 1} {
		end := seen(v, side, 0)
		drawn.Edges = append(drawn.Edges, Spot{end.X, end.Y})
	}
	d.out.Camera = drawn
	h := d.handle("camera", "camera", "camera", v.At, "at", "height", "aim", "lens", "focus")
	h.moves(d, c.At, false)
	h.faces("aim", v.Basis.Z)
	h.Remove = []document.Path{}
	for _, field := range []document.Path{"camera.at", "camera.height", "camera.aim"} {
		h.Remove = append(h.Remove, d.everywhere(field, "")...)
	}
	h.Copy = []Field{}
}

// seen is the place in the sharp plane at a share of half the picture's width to the right and of half its height up.
func seen(v *scene.View, right, up float64) geometry.Vector {
	share := v.Focus / (2 * v.Focal)
	return v.At.AddMul(v.Focus, v.Basis.Z).AddMul(right*share*v.Width, v.Basis.X).AddMul(up*share*v.Height, v.Basis.Y)
}
