package transport

import (
	"math"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/photometry"
	"gloam/internal/scene"
)

// A mirror shows a source at its image: the level is that over the folded path, times the mirror's share.
func TestMirror(t *testing.T) {
	const r, l, share = 0.4, 1000.0, 0.9
	mirror := []scene.Surface{board(vec{}, geometry.Up, 40, 40, scene.Optics{Mirror: grey(share)})}
	onAxis := func(d float64) float64 { return share * math.Pi * l * r * r / (r*r + d*d) }
	// Lamps that face the mirror from above; receptors that face it too see the image alone.
	known{name: "disc", scene: scenery(mirror, matt(vec{Z: 0.7}, down, l, disc(r))), within: 1e-4, sure: 0.005, most: 1 << 19,
		ask: []scene.Receiver{flatAt(vec{Z: 0.3}, down), flatAt(vec{Z: 0.8}, down)}, want: []float64{onAxis(1), onAxis(1.5)}}.run(t)
	known{name: "globe", scene: scenery(mirror, globe(vec{Z: 1}, r, l)), within: 1e-4, sure: 0.005, most: 1 << 19,
		ask: []scene.Receiver{flatAt(vec{Z: 0.3}, down)}, want: []float64{share * math.Pi * l * r * r / (1.3 * 1.3)}}.run(t)
	// A small mirror before a wide source is as good as a source of its own form.
	small := []scene.Surface{board(vec{}, geometry.Up, 0.2, 0.2, scene.Optics{Mirror: grey(share)})}
	known{name: "window of the mirror", scene: scenery(small, matt(vec{Z: 1}, down, l, panel(4, 4))), within: 1e-4, sure: 0.005, most: 1 << 19,
		ask: []scene.Receiver{flatAt(vec{Z: 0.3}, down)}, want: []float64{share * float64(photometry.RectangleIlluminance(l, 0.2, 0.2, 0.3))}}.run(t)
	// Seen by a spot: L·share, twice for two mirrors at a right angle.
	corner := []scene.Surface{
		board(vec{Z: 1}, toX, 2, 2, scene.Optics{Mirror: grey(share)}),
		board(vec{X: 1}, geometry.Up, 2, 2, scene.Optics{Mirror: grey(share)}),
	}
	known{name: "seen in mirrors", scene: scenery(corner, globe(vec{X: 2, Y: 0.5, Z: 1}, 0.2, l)), within: 1e-9, sure: 1e-9,
		ask:  []scene.Receiver{spotAt(vec{X: 1, Z: 2}, vec{Y: 0.5 / 3, Z: 5.0 / 3}), spotAt(vec{X: 2, Y: -0.5, Z: 0.5}, vec{X: 2 - 4.0/3, Y: -0.5 + 1.0/3})},
		want: []float64{share * l, share * share * l}}.run(t)
}
