package scene

import (
	"math"
	"testing"

	"gloam/internal/geometry"
)

// A room of 5 x 4 x 3 m whose inner corner lies at 1 2 0.5; seen from inside, every wall faces in.
func TestRoomFaces(t *testing.T) {
	s := built(t, "set: {rooms: {shop: {size: 5 x 4 x 3 m, corner: 1 2 0.5, walls: 0.4, floor: 0.1, ceiling: 0.8}}}\n")
	for _, row := range []struct {
		name      string
		low, high vec
		normal    vec
		rho       float64
	}{
		{"shop far", vec{X: 1, Y: 6, Z: 0.5}, vec{X: 6, Y: 6, Z: 3.5}, vec{Y: -1}, 0.4},
		{"shop near", vec{X: 1, Y: 2, Z: 0.5}, vec{X: 6, Y: 2, Z: 3.5}, vec{Y: 1}, 0.4},
		{"shop left", vec{X: 1, Y: 2, Z: 0.5}, vec{X: 1, Y: 6, Z: 3.5}, vec{X: 1}, 0.4},
		{"shop right", vec{X: 6, Y: 2, Z: 0.5}, vec{X: 6, Y: 6, Z: 3.5}, vec{X: -1}, 0.4},
		{"shop floor", vec{X: 1, Y: 2, Z: 0.5}, vec{X: 6, Y: 6, Z: 0.5}, vec{Z: 1}, 0.1},
		{"shop ceiling", vec{X: 1, Y: 2, Z: 3.5}, vec{X: 6, Y: 6, Z: 3.5}, vec{Z: -1}, 0.8},
	} {
		surface := s.surface(t, row.name)
		low, high := bounds(surface.Mesh)
		near(t, row.name+" least corner", low, row.low)
		near(t, row.name+" most corner", high, row.high)
		_, normal := facet(surface.Mesh)
		near(t, row.name+" normal", normal, row.normal)
		even(t, row.name+" front", surface.Optics.ReflectFront, row.rho)
	}
}

func TestRoomDefaults(t *testing.T) {
	s := built(t, "set: {rooms: {shop: 5 x 4 x 3 m}}\n")
	for name, rho := range map[string]float64{"shop far": 0.5, "shop floor": 0.2, "shop ceiling": 0.7} { // as the plan documents
		even(t, name, s.surface(t, name).Optics.ReflectFront, rho)
	}
}

// A window 2 x 1 m in a room of 5 x 4 x 3 m, in each wall: the left edge counts from the wall's left corner as seen from
// inside. U runs right and V up for who looks out.
func TestOpeningPlaces(t *testing.T) {
	const room = "set: {rooms: {shop: {size: 5 x 4 x 3 m, openings: {window: {size: 2 x 1 m, "
	for _, row := range []struct {
		name, where    string
		centre, u, v   vec
		wall           string
		area, wallArea float64
	}{
		{"far, by plan", "wall: far, at: 0.5 m, sill: 1.2 m", vec{X: 1.5, Y: 4, Z: 1.7}, vec{X: 1}, vec{Z: 0.5}, "shop far", 2, 15},
		{"near: left seen from inside is the far x", "wall: near, at: 0.5 m, sill: 1.2 m", vec{X: 3.5, Z: 1.7}, vec{X: -1}, vec{Z: 0.5}, "shop near", 2, 15},
		{"left: left seen from inside is the near y", "wall: left, at: 0.5 m, sill: 1.2 m", vec{Y: 1.5, Z: 1.7}, vec{Y: 1}, vec{Z: 0.5}, "shop left", 2, 12},
		{"right", "wall: right, at: 0.5 m, sill: 1.2 m", vec{X: 5, Y: 2.5, Z: 1.7}, vec{Y: -1}, vec{Z: 0.5}, "shop right", 2, 12},
		{"centred, sill at 0.9 m if not given", "wall: far", vec{X: 2.5, Y: 4, Z: 1.4}, vec{X: 1}, vec{Z: 0.5}, "shop far", 2, 15},
		{"ceiling: sill from the near wall", "wall: ceiling, at: 0.5 m, sill: 0.25 m", vec{X: 1.5, Y: 0.75, Z: 3}, vec{X: 1}, vec{Y: -0.5}, "shop ceiling", 2, 20},
		{"ceiling, centred", "wall: ceiling", vec{X: 2.5, Y: 2, Z: 3}, vec{X: 1}, vec{Y: -0.5}, "shop ceiling", 2, 20},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := built(t, room+row.where+"}}}}}\n")
			o := s.opening(t, "window")
			near(t, "centre", o.Centre, row.centre)
			near(t, "U", o.U, row.u)
			near(t, "V", o.V, row.v)
			pane := s.surface(t, "window")
			area, normal := facet(pane.Mesh)
			within(t, "area of the pane", area, row.area, 1e-9)
			near(t, "the pane faces in, as its wall", normal, second(facet(s.surface(t, row.wall).Mesh)))
			left, _ := facet(s.surface(t, row.wall).Mesh)
			within(t, "area of the wall less its hole", left, row.wallArea-row.area, 1e-9)
			if hit(s.surface(t, row.wall).Mesh, row.centre.AddMul(0.1, normal), normal.Neg()) < 1 {
				t.Error("the wall closes its own window")
			}
		})
	}
}

func second[A, B any](_ A, b B) B { return b }

// North is the azimuth of +y. With +y looking east, the wall toward +y is the east wall, and so on round; halfway walls
// go by the nearest.
func TestWallsByCompass(t *testing.T) {
	for _, row := range []struct {
		name, north string
		wall        map[string]string // compass word: wall by plan
	}{
		{"y looks north", "0", map[string]string{"north": "shop far", "east": "shop right", "south": "shop near", "west": "shop left"}},
		{"y looks east", "90", map[string]string{"east": "shop far", "south": "shop right", "west": "shop near", "north": "shop left"}},
		{"y looks 20° east of north", "20", map[string]string{"north": "shop far", "east": "shop right", "north-east": "shop far"}},
		{"y looks 30° west of north", "330", map[string]string{"north": "shop far", "north-west": "shop far", "north-east": "shop right"}},
	} {
		for word, want := range row.wall {
			t.Run(row.name+" "+word, func(t *testing.T) {
				s := built(t, "set: {north: "+row.north+" deg, rooms: {shop: {size: 5 x 4 x 3 m, openings: {door: {wall: "+word+", size: 1 x 2 m, sill: 0}}}}}\n")
				for wall, whole := range map[string]float64{"shop far": 15, "shop near": 15, "shop left": 12, "shop right": 12} {
					area, _ := facet(s.surface(t, wall).Mesh)
					if pierced := whole-area > 1; pierced != (wall == want) {
						t.Errorf("the %s wall has an area of %g m²; the door should be in the %s", wall, area, want)
					}
				}
			})
		}
	}
}

func TestOpeningGlassAndGel(t *testing.T) {
	for _, row := range []struct {
		name, glass string
		panes       int
	}{{"none", "glass: none", 0}, {"single, if not given", "", 1}, {"double", "glass: double", 2}} {
		t.Run(row.name, func(t *testing.T) {
			s := built(t, "set: {rooms: {shop: {size: 5 x 4 x 3 m, openings: {window: {wall: far, size: 2 x 1 m, gel: ND 0.6, "+row.glass+"}}}}}\n")
			o := &s.surface(t, "window").Optics
			if o.Panes != row.panes || !o.Passes() {
				t.Errorf("has %d panes and passes: %v; want %d", o.Panes, o.Passes(), row.panes)
			}
			if row.panes == 0 {
				even(t, "an open hole", o.Straight, 1)
			}
			within(t, "gel", s.opening(t, "window").Gel.At(550), math.Pow(10, -0.6), 1e-9)
			if got := s.surface(t, "window").Opening; got != 0 {
				t.Errorf("the pane belongs to opening %d, want 0", got)
			}
		})
	}
}

// A barrel vault of width w and rise r lies on a circle of radius (w²/4 + r²)/2r; its arc is as long as the angle times the
// radius. Its ends are closed by half-moons of the segment's area.
func TestVault(t *testing.T) {
	const w, d, h, rise = 6.0, 4.0, 2.5, 1.2
	s := built(t, "set: {rooms: {crypt: {size: 6 x 4 x 2.5 m, vault: 1.2 m, ceiling: 0.3, walls: 0.5}}}\n")
	radius := (w*w/4 + rise*rise) / (2 * rise)
	angle := 2 * math.Asin(w/2/radius)
	vault := s.surface(t, "crypt vault")
	area, normal := facet(vault.Mesh)
	within(t, "area of the vault", area, radius*angle*d, 2e-3) // 48 chords for the arc
	if normal.Z >= 0 {
		t.Error("the vault does not face down into the room")
	}
	even(t, "vault", vault.Optics.ReflectFront, 0.3)
	low, high := bounds(vault.Mesh)
	near(t, "springing line", low, vec{Z: h})
	near(t, "crown", high, vec{X: w, Y: d, Z: h + rise})
	moon := radius * radius / 2 * (angle - math.Sin(angle))
	for name, in := range map[string]vec{"crypt near end": {Y: 1}, "crypt far end": {Y: -1}} {
		end := s.surface(t, name)
		area, normal := facet(end.Mesh)
		within(t, "area of "+name, area, moon, 3e-3) // 48 chords for the arc
		near(t, "normal of "+name, normal, in)
		even(t, name, end.Optics.ReflectFront, 0.5)
	}
	for i := range s.Scene.Surfaces {
		if s.Scene.Surfaces[i].Name == "crypt ceiling" {
			t.Error("a vaulted room has a flat ceiling too")
		}
	}
	// Nothing leaks: from the middle every way is closed.
	var all geometry.Mesh
	for i := range s.Scene.Surfaces {
		all.Append(s.Scene.Surfaces[i].Mesh)
	}
	for i := range 500 {
		z := -1 + 2*(float64(i)+0.5)/500
		sin, cos := math.Sincos(2.399963 * float64(i)) // golden angle
		r := math.Sqrt(1 - z*z)
		if math.IsInf(hit(all, vec{X: 2.9, Y: 1.9, Z: 1.1}, vec{X: r * cos, Y: r * sin, Z: z}), 1) {
			t.Fatalf("a ray at height %.2f, angle %d leaves the closed room", z, i)
		}
	}
}

// The ground keeps out of the plane of a room's floor, and stands at its own level where there is no room.
func TestGround(t *testing.T) {
	alone := built(t, "set: {ground: {material: 0.3, level: -0.4 m}}\n").surface(t, "ground")
	low, high := bounds(alone.Mesh)
	if low.Z != -0.4 || high.Z != -0.4 || high.X < 200 || low.Y > -200 {
		t.Errorf("the ground reaches from %v to %v", low, high)
	}
	near(t, "normal", second(facet(alone.Mesh)), geometry.Up)
	even(t, "ground", alone.Optics.ReflectFront, 0.3)
	under := built(t, "set: {ground: 0.3, rooms: {shop: 5 x 4 x 3 m}}\n").surface(t, "ground")
	if low, _ := bounds(under.Mesh); !(low.Z < 0 && low.Z > -0.02) {
		t.Errorf("with a room's floor at 0 the ground lies at %g m", low.Z)
	}
	if s := built(t, "points: {here: {at: 0 0 1, faces: up}}\n"); len(s.Scene.Surfaces) != 0 {
		t.Errorf("a plan without set has %d surfaces", len(s.Scene.Surfaces))
	}
}
