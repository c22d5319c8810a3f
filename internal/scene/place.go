package scene

import (
	"gloam/internal/document"
	"gloam/internal/geometry"
	"gloam/internal/plan"
	"gloam/internal/unit"
)

// where returns a place. height is that of the thing placed, above it.
func (b *builder) where(path document.Path, w *plan.Where, height unit.Metre) geometry.Vector {
	at, ok := b.places.Place(w, height)
	return b.found(path, w, at, ok)
}

// meter returns the place of a meter.
func (b *builder) meter(path document.Path, w *plan.Where, height unit.Metre) geometry.Vector {
	at, ok := b.places.Meter(w, height)
	return b.found(path, w, at, ok)
}

func (b *builder) found(path document.Path, w *plan.Where, at geometry.Vector, ok bool) geometry.Vector {
	if !ok {
		b.fail(path, "what it is measured from has no place", w.String(), "")
	}
	return at
}

// toward returns the direction from a place that a plan states.
func (b *builder) toward(path document.Path, t *plan.Toward, from geometry.Vector) geometry.Vector {
	return b.way(path, t, from).Unit()
}

// way returns the way that toward leads, as long as it is.
func (b *builder) way(path document.Path, t *plan.Toward, from geometry.Vector) geometry.Vector {
	way, ok := b.places.Way(t, from)
	return b.led(path, t, way, ok)
}

// level returns the direction from a place, level.
func (b *builder) level(path document.Path, t *plan.Toward, from geometry.Vector) geometry.Vector {
	way, ok := b.places.LevelWay(t, from)
	return b.led(path, t, way, ok).Unit()
}

func (b *builder) led(path document.Path, t *plan.Toward, way geometry.Vector, ok bool) geometry.Vector {
	switch {
	case !ok:
		b.fail(path, "what it faces has no place", t.String(), "")
	case way == geometry.Vector{}:
		b.fail(path, noWay, t.String(), "")
	default:
		return way
	}
	return geometry.Vector{Y: 1} // so that building goes on
}

const noWay = "faces the place it stands on"
