package transport

import (
	"math"
	"testing"

	"gloam/internal/scene"
	"gloam/internal/spectrum"
)

// only weighs one band of every column.
func only(s *scene.Scene, band int) []spectrum.Band {
	w := make([]spectrum.Band, s.Columns())
	for c := range w {
		w[c][band] = 1
	}
	return w
}

// colourful is a room whose every share depends on the band: walls, cloth, light cloth, a coloured mirror.
func colourful(of func(base float64) spectrum.Band) *scene.Scene {
	walls := closedRoom(vec{X: 4, Y: 3, Z: 2.5}, 0, 0, 0)
	for i := range walls {
		walls[i].Optics = scene.Matt(of(0.3 + 0.1*float64(i)))
	}
	s := scenery(append(walls,
		board(vec{X: 2, Y: 1.5, Z: 1.2}, toX, 1.2, 1.2, scene.Optics{Transmit: of(0.4), ReflectFront: of(0.3), ReflectBack: of(0.2)}),
		board(vec{X: 1, Y: 2, Z: 1.5}, vec{X: 1, Y: -1}, 1, 1, scene.Optics{Straight: of(0.6), Transmit: of(0.2), ReflectFront: of(0.1)}),
		board(vec{X: 3, Y: 0.8, Z: 1.2}, vec{X: -1, Y: 1}, 1, 1, scene.Optics{Straight: of(0.5), Spread: 0.5, ReflectBack: of(0.3)}),
		board(vec{X: 3.8, Y: 1.5, Z: 1.5}, vec{X: -1}, 1, 1, scene.Optics{Mirror: of(0.8)}),
	), matt(vec{X: 0.5, Y: 1.5, Z: 2}, vec{X: 1, Z: -0.5}, 1000, panel(0.6, 0.6)))
	s.Receivers = []scene.Receiver{flatAt(vec{X: 3, Y: 2, Z: 1}, vec{X: -1}), domeAt(vec{X: 1.5, Y: 1, Z: 1}, vec{X: -1, Y: 0.5})}
	return s
}

// Each band of a coloured run is the grey run with that band's shares.
func TestBandsAreGreyRuns(t *testing.T) {
	share := func(base float64, band int) float64 { return base * (0.2 + 0.1*float64(band)) }
	all := colourful(func(base float64) (f spectrum.Band) {
		for b := range f {
			f[b] = share(base, b)
		}
		return f
	})
	coloured := traced(t, all, 1, 0.005, 1<<16)
	last := make([]float64, len(all.Receivers))
	for band := range spectrum.Bands {
		alone := colourful(func(base float64) spectrum.Band { return grey(share(base, band)) })
		one := traced(t, alone, 2, 0.01, 1<<14)
		for i := range all.Receivers {
			got, e := coloured.Points[i].Level(only(all, band))
			want, f := one.Points[i].Level(evenly(alone))
			compare(t, all.Receivers[i].Name, got, math.Hypot(e, f), want, 0)
			if e > 0.02*got || f > 0.02*want {
				t.Errorf("standard errors %.2g and %.2g", e/got, f/want)
			}
			if got <= last[i] { // more share, more light
				t.Errorf("band %d gives %v after %v", band, got, last[i])
			}
			last[i] = got
		}
	}
}

// In a grey scene all bands carry the same digits, and the mean over bands is any of them.
func TestGreyBandsAreAlike(t *testing.T) {
	s := busyRoom()
	for _, p := range traced(t, s, 1, 0.05, 1024).Points {
		for c := range p.Response {
			for b := range p.Response[c] {
				compare(t, "band", p.Response[c][b], 0, p.Response[c][0], 1e-12)
			}
		}
	}
}
