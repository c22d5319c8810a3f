package transport

import (
	"fmt"
	"math"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/photometry"
	"gloam/internal/scene"
)

// numbers asks that nothing in the layers is negative, infinite or no number.
func numbers(t *testing.T, s *scene.Scene, l *Layers) {
	t.Helper()
	for i, p := range l.Points {
		level, stderr := p.Level(evenly(s))
		values := []float64{level, stderr}
		for c := range p.Response {
			values = append(append(values, p.Response[c][:]...), p.Direct[c][:]...)
		}
		for _, v := range p.Via {
			values = append(values, v...)
		}
		for _, v := range values {
			if !(v >= 0) || math.IsInf(v, 0) {
				t.Errorf("%s: %v", s.Receivers[i].Name, v)
				break
			}
		}
	}
}

func TestNothingInTheScene(t *testing.T) {
	ask := []scene.Receiver{flatAt(vec{}, geometry.Up), domeAt(vec{}, toX), spotAt(vec{}, toX)}
	for name, s := range map[string]*scene.Scene{
		"empty":       {},
		"no emitters": {Surfaces: closedRoom(vec{X: 1, Y: 1, Z: 1}, 0.5, 0.5, 0.5)},
		"no surfaces": scenery(nil, point(vec{Z: 2}, 100), sky(true), sun(geometry.Up)),
		"an opening":  {Openings: []scene.Opening{{U: toX, V: geometry.Up}}, Emitters: []scene.Emitter{sky(false)}},
	} {
		s.Receivers = ask
		l := traced(t, s, 1, 0.05, 1024)
		numbers(t, s, l)
		if len(s.Emitters) == 0 {
			for i := range l.Points {
				if level, stderr := l.Points[i].Level(evenly(s)); level != 0 || stderr != 0 {
					t.Errorf("%s: %v ± %v", name, level, stderr)
				}
			}
		}
		s.Receivers = nil
		if l := traced(t, s, 1, 0.05, 1024); len(l.Points) != 0 {
			t.Errorf("%s: points without receivers", name)
		}
	}
}

// Receptors inside a closed black body are dark; inside a lamp, in the plane of a window, on a surface, on an edge or
// in a corner they read some number.
func TestReceiversInOddPlaces(t *testing.T) {
	closed := scenery([]scene.Surface{surface(geometry.Box(vec{}, geometry.About(geometry.Up), vec{X: 1, Y: 1, Z: 1}), scene.Matt(grey(0)))},
		point(vec{Z: 3}, 1000), sky(false), sun(vec{X: 1, Z: 1}))
	known{name: "inside a body", scene: closed, within: 0, sure: 0, want: []float64{0, 0, 0},
		ask: []scene.Receiver{flatAt(vec{X: 0.1}, geometry.Up), domeAt(vec{X: 0.1}, geometry.Up), spotAt(vec{X: 0.1}, vec{Z: 3})}}.run(t)

	s := busyRoom()
	s.Emitters = append(s.Emitters, tube(vec{X: 1, Y: 1, Z: 1}, 0.05, 0.8, 100), spotlight(vec{X: 2, Y: 2, Z: 2}, down, photometry.Bell(1000, 20)))
	for i := range s.Emitters {
		s.Emitters[i].Name = fmt.Sprint("emitter ", i)
	}
	s.Receivers = nil
	for _, at := range []vec{
		{X: 3, Y: 0.5, Z: 1.8}, {X: 3.1, Y: 0.5, Z: 1.8}, // middle and mantle of a globe
		{X: 1, Y: 1, Z: 1}, {X: 1, Y: 1, Z: 1.05}, {X: 1.4, Y: 1, Z: 1}, // of a tube, and its end
		{X: 0.5, Y: 1, Z: 2.2}, {X: 2, Y: 2, Z: 2}, // on a panel, on a small lamp
		{X: 1.75, Z: 1.25}, {X: 1, Z: 0.5}, {X: 2.5, Z: 1.25}, // in the window, on its corner, on its jamb
		{X: 3, Y: 1.5, Z: 2.5},           // in the skylight
		{X: 2, Y: 1.5}, {X: 4, Y: 3}, {}, // on the floor, in corners
		{X: 1, Y: 2, Z: 1.2}, {X: 3, Y: 2.4, Z: 1}, {X: 2, Y: 0.6, Z: 1.3}, // on cloth, mirror, glass
		{X: -50, Y: 20, Z: 3}, {X: 1e5, Y: -1e5, Z: 10}, // outside
	} {
		for _, n := range []vec{geometry.Up, down, toX, {Y: 1}, {X: -1, Y: -1, Z: 1}} {
			s.Receivers = append(s.Receivers, flatAt(at, n), domeAt(at, n), spotAt(at, at.Add(n)))
		}
	}
	numbers(t, s, traced(t, s, 1, 0.05, 1024))
}

// A receptor on a surface reads what one a little above it does.
func TestReceiverOnASurface(t *testing.T) {
	s := scenery(closedRoom(vec{X: 4, Y: 3, Z: 2.5}, 0.2, 0.7, 0.5), globe(vec{X: 2, Y: 1.5, Z: 1.5}, 0.1, 1000))
	slant := vec{X: 1, Y: 2, Z: 3}.Unit()
	s.Surfaces = append(s.Surfaces, board(vec{X: 1.3, Y: 0.7, Z: 0.9}, slant, 0.8, 0.8, scene.Matt(grey(0.5))))
	on := geometry.About(slant).Out(vec{X: 0.13, Y: -0.21}).Add(vec{X: 1.3, Y: 0.7, Z: 0.9})
	for _, place := range []struct{ at, n vec }{{vec{X: 1, Y: 1}, geometry.Up}, {vec{X: 3, Y: 2, Z: 2.5}, down}, {vec{Y: 1, Z: 1}, toX}, {on, slant}, {on, slant.Neg()}} {
		s.Receivers = append(s.Receivers, flatAt(place.at, place.n), flatAt(place.at.AddMul(0.001, place.n), place.n))
	}
	l := traced(t, s, 1, 0.01, 1<<15)
	for i := 0; i < len(s.Receivers); i += 2 {
		got, e := l.Points[i].Level(evenly(s))
		want, f := l.Points[i+1].Level(evenly(s))
		compare(t, s.Receivers[i].Name, got, math.Hypot(e, f), want, 5e-3)
		if want == 0 {
			t.Errorf("%s is dark", s.Receivers[i].Name)
		}
	}
}

// Triangles without an area, thin as hairs, far out of sight or with a corner that is no number change nothing.
func TestDegenerateMeshes(t *testing.T) {
	ask := []scene.Receiver{flatAt(vec{X: 1, Y: 1, Z: 0.5}, geometry.Up), flatAt(vec{X: 2, Y: 2, Z: 1}, toX)}
	room := scenery(closedRoom(vec{X: 4, Y: 3, Z: 2.5}, 0.2, 0.7, 0.5), globe(vec{X: 2, Y: 1.5, Z: 1.5}, 0.1, 1000))
	room.Receivers = ask
	clean := traced(t, room, 1, 0.01, 1<<14)
	nan, inf := math.NaN(), math.Inf(1)
	for name, m := range map[string]geometry.Mesh{
		"no triangles": {Positions: []vec{{X: 1}}},
		"a point":      {Positions: []vec{{X: 1, Y: 1, Z: 1}}, Triangles: [][3]int32{{0, 0, 0}}},
		"a line":       {Positions: []vec{{X: 1, Y: 1, Z: 1}, {X: 2, Y: 2, Z: 2}, {X: 3, Y: 3, Z: 3}}, Triangles: [][3]int32{{0, 1, 2}, {2, 1, 0}, {0, 1, 1}}},
		"a hair":       {Positions: []vec{{X: 1, Y: 1, Z: 1}, {X: 2, Y: 2, Z: 2}, {X: 3, Y: 3, Z: 3 + 1e-12}}, Triangles: [][3]int32{{0, 1, 2}}},
		"no number":    {Positions: []vec{{X: nan}, {X: 1}, {Y: 1, Z: 1}}, Triangles: [][3]int32{{0, 1, 2}}},
		"without end":  {Positions: []vec{{X: inf}, {X: 1}, {Y: 1, Z: -inf}}, Triangles: [][3]int32{{0, 1, 2}}},
		"beyond float": {Positions: []vec{{X: 1e300}, {X: 1, Y: 1e300}, {Y: 1, Z: 1}}, Triangles: [][3]int32{{0, 1, 2}}},
		"a speck":      {Positions: []vec{{X: 1}, {X: 1 + 1e-170}, {X: 1, Y: 1e-170}}, Triangles: [][3]int32{{0, 1, 2}}},
	} {
		t.Run(name, func(t *testing.T) {
			s := *room
			s.Surfaces = append([]scene.Surface{surface(m, scene.Matt(grey(0.5)))}, room.Surfaces...)
			l := traced(t, &s, 1, 0.01, 1<<14)
			numbers(t, &s, l)
			for i := range ask {
				got, stderr := l.Points[i].Level(evenly(&s))
				want, _ := clean.Points[i].Level(evenly(&s))
				compare(t, ask[i].Name, got, stderr, want, 0)
			}
		})
	}
}

// The same room a thousand times larger or four hundred times smaller, its lamp's luminance kept, has the same levels:
// 1 cm and 4 km.
func TestScale(t *testing.T) {
	at := func(k float64) *scene.Scene {
		room := closedRoom(vec{X: 4 * k, Y: 4 * k, Z: 4 * k}, 0.5, 0.5, 0.5)
		heavy := scene.Optics{Transmit: grey(0.3), ReflectFront: grey(0.5)}
		s := scenery(append(room, board(vec{X: 2 * k, Y: 2 * k, Z: k}, vec{X: 1, Z: 1}, k, k, heavy)), globe(vec{X: 2 * k, Y: 2 * k, Z: 3 * k}, 0.2*k, 1000))
		s.Receivers = []scene.Receiver{flatAt(vec{X: k, Y: k, Z: 0.5 * k}, geometry.Up), flatAt(vec{X: 3 * k, Y: k, Z: 2 * k}, vec{X: -1}), domeAt(vec{X: 2 * k, Y: k, Z: k}, vec{Y: 1})}
		return s
	}
	s := at(1)
	one := traced(t, s, 1, 0.004, 1<<16)
	for _, row := range []struct {
		name          string
		scale, within float64 // of the step off a surface, 0.1 mm
	}{{"1 cm", 0.0025, 0.02}, {"10 cm", 0.025, 2e-3}, {"40 m", 10, 1e-3}, {"4 km", 1000, 1e-3}} {
		t.Run(row.name, func(t *testing.T) {
			k := at(row.scale)
			l := traced(t, k, 2, 0.004, 1<<16)
			numbers(t, k, l)
			for i := range l.Points {
				got, e := l.Points[i].Level(evenly(k))
				want, f := one.Points[i].Level(evenly(s))
				compare(t, s.Receivers[i].Name, got, math.Hypot(e, f), want, row.within)
			}
		})
	}
}

// A small thing looked at from afar: the eye's distance, not the scene's size, bounds what a float32 can tell.
func TestFarEye(t *testing.T) {
	s := scenery([]scene.Surface{board(vec{}, geometry.Up, 1, 1, scene.Matt(grey(0.5)))}, sun(geometry.Up), sky(false))
	s.Receivers = []scene.Receiver{spotAt(vec{X: 3000, Y: 1000, Z: 3000}, vec{X: 0.1, Y: 0.1}), spotAt(vec{X: 30000, Z: 30000}, vec{X: 0.1})}
	l := traced(t, s, 1, 0.01, 1<<14)
	for i := range l.Points {
		got, stderr := l.Points[i].Level(evenly(s))
		compare(t, s.Receivers[i].Name, got, stderr, 0.5*(1+math.Pi)/math.Pi, 1e-3)
	}
}

// Lamps of no size and lamps of no light give numbers.
func TestOddLamps(t *testing.T) {
	dot := spotlight(vec{Z: 2}, down, photometry.Bell(1000, 20))
	dot.Form.Radius = 0
	line := matt(vec{Z: 2}, down, 1000, panel(1, 0))
	line.Beam = cosine(1000)
	s := scenery(closedRoom(vec{X: 4, Y: 3, Z: 2.5}, 0.2, 0.7, 0.5), dot, line, globe(vec{X: 1, Y: 1, Z: 1}, 0, 1000), tube(vec{X: 1, Y: 1, Z: 1}, 0, 1, 1000),
		spotlight(vec{X: 1, Y: 1, Z: 2}, down, photometry.Isotropic(0)), globe(vec{X: 2, Y: 1, Z: 1}, 0.1, 0))
	s.Receivers = []scene.Receiver{flatAt(vec{X: 0.5, Y: 0.5, Z: 0.5}, geometry.Up), domeAt(vec{X: 2, Y: 2, Z: 1}, vec{X: -1}), spotAt(vec{X: 3, Y: 2, Z: 1}, vec{X: 1, Y: 1, Z: 1})}
	numbers(t, s, traced(t, s, 1, 0.05, 1024))
}
