package transport

import (
	"math"
	"testing"

	"gloam/internal/geometry"
	"gloam/internal/numeric"
	"gloam/internal/scene"
)

func cosDegrees(d float64) float64 { return math.Cos(d * math.Pi / 180) }

func glass(panes int) scene.Optics { return scene.Optics{Panes: panes, PaneClarity: 1} }

// Fresnel's equations for one surface of n = 1.52, mean of both polarisations ([BornWolf] 1.5). No light is reflected
// in the plane of incidence at Brewster's angle, atan n = 56.66°.
func TestFresnelReflectance(t *testing.T) {
	for _, row := range []struct{ degrees, want float64 }{
		{0, 0.042580}, {30, 0.044144}, {45, 0.053045}, {60, 0.092483}, {70, 0.174712}, {75, 0.256715}, {80, 0.390950}, {85, 0.614923}, {90, 1},
	} {
		s, p := FresnelReflectance(cosDegrees(row.degrees), GlassIndex)
		if math.Abs((s+p)/2-row.want) > 1e-6 {
			t.Errorf("%v°: %.6f, want %.6f", row.degrees, (s+p)/2, row.want)
		}
	}
	brewster := math.Atan(GlassIndex)
	if d := brewster * 180 / math.Pi; math.Abs(d-56.66) > 0.005 {
		t.Errorf("Brewster's angle %v°", d)
	}
	s, p := FresnelReflectance(math.Cos(brewster), GlassIndex)
	n2 := GlassIndex * GlassIndex
	if want := (n2 - 1) / (n2 + 1); p > 1e-15 || math.Abs(s-want*want) > 1e-12 { // 0.15669
		t.Errorf("at Brewster's angle across %v, in the plane %v", s, p)
	}
	// from inside beyond the critical angle all is reflected; below it both ways are alike
	if s, p := FresnelReflectance(cosDegrees(60), 1/GlassIndex); s != 1 || p != 1 {
		t.Errorf("total reflection %v, %v", s, p)
	}
	inside := math.Sqrt(1 - 0.25/(GlassIndex*GlassIndex)) // beyond 30°
	s1, p1 := FresnelReflectance(cosDegrees(30), GlassIndex)
	s2, p2 := FresnelReflectance(inside, 1/GlassIndex)
	if math.Abs(s1-s2) > 1e-12 || math.Abs(p1-p2) > 1e-12 {
		t.Errorf("in %v %v, out %v %v", s1, p1, s2, p2)
	}
}

// Panes with all reflections between their surfaces, without interference [Stokes1862]. Lossless, one passes
// (1−R)/(1+R) of each polarisation and two (1−R)/(1+3R). Clarity 0.98 is 4 mm of common glass.
func TestPanes(t *testing.T) {
	for _, row := range []struct {
		name                   string
		panes                  int
		clarity, degrees, want float64
	}{
		{"one, 0", 1, 1, 0, 0.918318}, {"one, 30", 1, 1, 30, 0.915957}, {"one, 50", 1, 1, 50, 0.891162},
		{"one, 60", 1, 1, 60, 0.843471}, {"one, 70", 1, 1, 70, 0.724713}, {"one, 80", 1, 1, 80, 0.456043},
		{"two, 0", 2, 1, 0, 0.848972}, {"two, 30", 2, 1, 30, 0.846487}, {"two, 60", 2, 1, 60, 0.760313}, {"two, 75", 2, 1, 75, 0.472788},
		{"one of 0.98, 0", 1, 0.98, 0, 0.899887}, {"one of 0.98, 30", 1, 0.98, 30, 0.896488},
		{"one of 0.98, 60", 1, 0.98, 60, 0.822427}, {"one of 0.98, 75", 1, 0.98, 75, 0.596638},
		{"none", 0, 1, 40, 1}, {"edge-on", 1, 1, 90, 0},
	} {
		got, reflected := Panes(cosDegrees(row.degrees), row.panes, GlassIndex, row.clarity)
		if !(math.Abs(got-row.want) <= 1e-6) {
			t.Errorf("%s: %.6f, want %.6f", row.name, got, row.want)
		}
		if sum := got + reflected; row.clarity == 1 && math.Abs(sum-1) > 1e-12 || row.clarity < 1 && sum >= 1 {
			t.Errorf("%s: passes and reflects %v", row.name, sum)
		}
		if back, _ := Panes(-cosDegrees(row.degrees), row.panes, GlassIndex, row.clarity); back != got {
			t.Errorf("%s: from behind %v", row.name, back)
		}
	}
}

// Stokes' closed forms for any number of panes, per polarisation (1−R)/(1+(2m−1)R), against the stack added pane by pane.
func TestPanesInAnyNumber(t *testing.T) {
	for m := 1; m <= 6; m++ {
		for cos := 0.05; cos <= 1; cos += 0.05 {
			s, p := FresnelReflectance(cos, GlassIndex)
			k := float64(2*m - 1)
			want := ((1-s)/(1+k*s) + (1-p)/(1+k*p)) / 2
			if got, _ := Panes(cos, m, GlassIndex, 1); math.Abs(got-want) > 1e-12 {
				t.Errorf("%d panes at cos %.2f: %v, want %v", m, cos, got, want)
			}
		}
	}
}

// The diffuse transmittance ∫ T·2cos dcos: 0.84642 of one pane and 0.76455 of two; one surface reflects 0.09471.
func TestDiffuseShares(t *testing.T) {
	x, w := nodes(200)
	var one, two, surface float64
	for i := range x {
		a, _ := Panes(x[i], 1, GlassIndex, 1)
		b, _ := Panes(x[i], 2, GlassIndex, 1)
		s, p := FresnelReflectance(x[i], GlassIndex)
		k := 2 * x[i] * w[i]
		one, two, surface = one+a*k, two+b*k, surface+(s+p)/2*k
	}
	for _, row := range []struct {
		name      string
		got, want float64
	}{{"one pane", one, 0.84642}, {"two panes", two, 0.76455}, {"one surface", surface, 0.09471}} {
		if math.Abs(row.got-row.want) > 1e-5 {
			t.Errorf("%s: %.6f, want %.6f", row.name, row.got, row.want)
		}
	}
}

// The table that rays use keeps the shares.
func TestPaneTable(t *testing.T) {
	for _, panes := range []int{1, 2, 3} {
		for _, clarity := range []float64{1, 0.98, 0.5} {
			table := newPaneTable(panes, clarity)
			worst := 0.0
			for i := range uint32(20000) {
				path := numeric.Path(1, i)
				cos, grazing := path.Next()
				if i%4 == 0 {
					cos *= 0.01 * grazing
				}
				a, b := table.at(cos)
				c, d := Panes(cos, panes, GlassIndex, clarity)
				worst = max(worst, math.Abs(a-c), math.Abs(b-d))
			}
			if !(worst <= 1e-6) {
				t.Errorf("%d panes of %v: %.2g off", panes, clarity, worst)
			}
		}
	}
}

// Glass between a lamp and a receiver, square-on and on a slant: I cos³/h² times what the panes pass.
func TestGlassBeforeALamp(t *testing.T) {
	for _, row := range []struct {
		name   string
		optics scene.Optics
		want   [4]float64 // at 0, 30, 60 and 75 degrees
	}{
		{"one pane", glass(1), [4]float64{0.918318, 0.915957, 0.843471, math.NaN()}},
		{"two panes", glass(2), [4]float64{0.848972, 0.846487, 0.760313, 0.472788}},
		{"a pane of clarity 0.98", scene.Optics{Panes: 1, PaneClarity: 0.98}, [4]float64{0.899887, 0.896488, 0.822427, 0.596638}},
	} {
		s := scenery([]scene.Surface{board(vec{Z: 1.5}, geometry.Up, 50, 50, row.optics)}, point(vec{Z: 3}, 1000))
		k := known{name: row.name, scene: s, within: 1e-5, sure: 1e-4}
		for i, degrees := range []float64{0, 30, 60, 75} {
			if !math.IsNaN(row.want[i]) {
				cos := cosDegrees(degrees)
				k.ask = append(k.ask, flatAt(vec{X: 3 * math.Tan(degrees*math.Pi/180)}, geometry.Up))
				k.want = append(k.want, row.want[i]*1000/9*cos*cos*cos)
			}
		}
		k.run(t)
	}
	// Two single panes apart pass what each passes: light that goes to and fro between them is not looked for from a
	// lamp this small.
	two := []scene.Surface{board(vec{Z: 1.5}, geometry.Up, 50, 50, glass(1)), board(vec{Z: 1}, geometry.Up, 50, 50, glass(1))}
	known{name: "two windows in a row", scene: scenery(two, point(vec{Z: 3}, 1000)), within: 1e-5, sure: 1e-4,
		ask: []scene.Receiver{flatAt(vec{}, geometry.Up)}, want: []float64{0.918318 * 0.918318 * 1000 / 9}}.run(t)
}

// An even sky through glass that fills the whole view is cut by the diffuse transmittance, and glass on the ground
// shows the rest of it to a receptor that faces down. Clear glass without the sky beyond shows nothing.
func TestGlassBeforeTheSky(t *testing.T) {
	pane := func(panes int) []scene.Surface {
		return []scene.Surface{board(vec{}, geometry.Up, 4000, 4000, glass(panes))}
	}
	under, over := flatAt(vec{Z: -0.1}, geometry.Up), flatAt(vec{Z: 0.1}, down)
	for _, row := range []struct {
		name  string
		panes int
		want  float64
	}{{"one pane", 1, 0.84642}, {"two panes", 2, 0.76455}} {
		known{name: row.name, scene: scenery(pane(row.panes), sky(false)), within: 1e-4, sure: 3e-3,
			ask: []scene.Receiver{under, over}, want: []float64{math.Pi * row.want, math.Pi * (1 - row.want)}, most: 1 << 20}.run(t)
	}
}
