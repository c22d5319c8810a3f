package gear

import (
	"math"
	"os"
	"strings"
	"testing"

	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

const tunable = `kit: 1
lamps:
  base: {beams: {beam: 26 deg, peak: 1 kcd}, opening: disc 0.3 m, reference: 4000 K, output: {3000 K: 90 %, 4000 K: 100 %, 6000 K: 80 %}}
  plain: {like: base, engines: {warm: A, cool: D65}}
  held: {like: base, duv: 0.002, engines: {warm: A, cool: D65}}
  dialled: {like: base, engines: {warm: A, cool: sky.csv, mix: {6000 K: 90 %, 3000 K: 10 %}}}
  mixing: {like: base, emitters: RGBW}
`

// Lamps of two engines and of several colours. A mix lies on the straight line between its engines: of black bodies of 2700 K
// and 6500 K in equal levels at 3980 K and Duv -0.005, by [CIE15]'s sums; here of A and D65 at 4000 K on the pink side of both.
func TestEnginesAndEmitters(t *testing.T) {
	k, faults := Read("kit.yaml", []byte(tunable), func(name string) ([]byte, error) {
		if name != "sky.csv" {
			return nil, os.ErrNotExist
		}
		return []byte("nm,value\n380,1\n780,1\n"), nil
	})
	if faults.Err() != nil {
		t.Fatal(faults)
	}
	green := 0.006
	for _, row := range []struct {
		name      string
		duv       *float64
		low, high float64 // Duv
	}{
		{"base", nil, -1e-4, 1e-4}, {"plain", nil, -0.006, -0.001}, {"held", nil, 0.0019, 0.0021}, {"plain", &green, 0.0059, 0.0061},
		{"mixing", nil, -1e-4, 1e-4}, {"mixing", &green, 0.0059, 0.0061},
	} {
		l, _ := k.Lamp(row.name)
		c, err := l.Light(4000, row.duv)
		if err != nil {
			t.Fatal(row.name, err)
		}
		kelvin, duv := cctOf(t, spectrum.LightOf(c))
		if math.Abs(kelvin-4000) > 5 || duv < row.low || duv > row.high {
			t.Errorf("%s: %.0f K, Duv %.4f, want 4000 K and %g to %g", row.name, kelvin, duv, row.low, row.high)
		}
	}
	l, _ := k.Lamp("dialled")
	got, err := l.Light(unit.Kelvin(3000), nil)
	if err != nil {
		t.Fatal(err)
	}
	a, _ := spectrum.Illuminant("A")
	want := spectrum.LightOf(spectrum.Mixture([]spectrum.Curve{a, spectrum.Flat(1)}, []float64{0.9, 0.1}))
	x, _ := cctOf(t, spectrum.LightOf(got))
	y, _ := cctOf(t, want)
	if math.Abs(x-y) > 15 { // the file ends at 380 and 780 nm
		t.Errorf("a tenth of the cool engine: %.0f K, want %.0f K", x, y)
	}
}

func TestEngineFaults(t *testing.T) {
	for _, row := range []struct{ name, old, new, want string }{
		{"no such light", "cool: D65", "cool: D66", "no light is known by that name"},
		{"both", "emitters: RGBW", "emitters: RGBW, engines: {warm: A, cool: D65}", "not both"},
		{"beyond the engines", "engines: {warm: A, cool: D65}}\n  held", "engines: {warm: A, cool: D50}}\n  held", "do not mix"},
		{"twice in the mix", "3000 K: 10 %}", "6000: 10 %}", "stands twice"},
	} {
		_, faults := Read("kit.yaml", []byte(strings.Replace(tunable, row.old, row.new, 1)), func(name string) ([]byte, error) {
			if name != "sky.csv" {
				return nil, os.ErrNotExist
			}
			return []byte("380,1\n780,1\n"), nil
		})
		if !strings.Contains(faults.Error(), row.want) {
			t.Errorf("%s: %s; want %q", row.name, faults.Error(), row.want)
		}
	}
}
