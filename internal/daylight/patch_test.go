package daylight

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"gloam/internal/geometry"
	"gloam/internal/unit"
)

// The bands of [Tregenza1987] are 30, 30, 24, 24, 18, 12, 6 and 1 patches; they fill the hemisphere.
func TestPatchesFillTheHemisphere(t *testing.T) {
	var solid, level float64
	for i, p := range Patches {
		solid += p.SolidAngle
		level += p.Horizontal
		if got := PatchOf(p.Direction); got != i {
			t.Errorf("the middle of patch %d lies in %d", i, got)
		}
		near(t, "a direction's length", p.Direction.Length(), 1, 1e-12)
	}
	near(t, "solid angle", solid, 2*math.Pi, 1e-12)
	near(t, "of level ground", level, math.Pi, 1e-12)
	near(t, "first patch", Patches[0].SolidAngle, math.Sin(radians(12))*2*math.Pi/30, 1e-12)
	near(t, "zenith patch", Patches[144].SolidAngle, 2*math.Pi*(1-math.Cos(radians(6))), 1e-12)
}

// Every direction lies in one patch, within its half-width of the middle, and the share of directions is the solid angle.
func TestPatchOfCountsRight(t *testing.T) {
	const bands, turns = 900, 1800
	var count [PatchCount]float64
	for i := range bands {
		altitude := math.Asin((float64(i) + 0.5) / bands)
		for k := range turns {
			count[PatchOf(toward(altitude, (float64(k)+0.5)/turns*2*math.Pi))]++
		}
	}
	for i, p := range Patches {
		if got := count[i] / (bands * turns) * 2 * math.Pi; math.Abs(got-p.SolidAngle) > 0.0009 {
			t.Errorf("patch %d: %.5f sr, want %.5f", i, got, p.SolidAngle)
		}
	}
}

func TestPatchOfEdges(t *testing.T) {
	for _, c := range []struct {
		name              string
		altitude, azimuth float64
		want              int
	}{
		{"north on the horizon", 0, 0, 0},
		{"a hair west of north", 3, 359.99, 0},
		{"just past the first patch", 3, 6.01, 1},
		{"last before north", 3, 353.99, 29},
		{"second band", 12.001, 0, 30},
		{"zenith", 90, 0, 144},
		{"edge of the cap", 83.99, 0, 138},
	} {
		if got := PatchOf(deg(c.altitude, c.azimuth)); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
	for _, d := range []geometry.Vector{{Z: -1}, {X: 1, Z: -1e-9}, {Z: math.NaN()}} {
		if got := PatchOf(d); got != -1 {
			t.Errorf("%v lies in patch %d", d, got)
		}
	}
}

// Patch means against fine sums over each patch, the circumsolar patches included.
func TestPatchMeans(t *testing.T) {
	for number, s := range standardSkies {
		for _, altitude := range []float64{0, 13, 40, 72, 90} {
			sun := deg(altitude, 133)
			var relative [PatchCount]float64
			shapes[number].fill(sun, &relative)
			for i, want := range fineMeans(s, sun) {
				tolerance := 0.01
				if Patches[i].Direction.Dot(sun) > math.Cos(radians(10)) {
					tolerance = 0.06
				}
				near(t, fmt.Sprintf("type %d, sun %g°, patch %d", number, altitude, i), relative[i], want, tolerance)
			}
		}
	}
}

func fineMeans(s generalSky, sun geometry.Vector) (means [PatchCount]float64) {
	const fine = 16
	i := 0
	for band, count := range bandPatches {
		low, high := bandSines(band)
		for k := range count {
			for row := range fine {
				sine := low + (high-low)*(float64(row)+0.5)/fine
				for column := range fine {
					d := toward(math.Asin(sine), 2*math.Pi*(float64(k)+(float64(column)+0.5)/fine-0.5)/float64(count))
					means[i] += s.gradation(sine) * s.indicatrix(math.Acos(max(-1, min(1, d.Dot(sun))))) / (fine * fine)
				}
			}
			i++
		}
	}
	return means
}

// Luminances give level ground the level they were made for, and turn with the sun.
func TestLuminancesMakeTheLevel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := Kind(rapid.IntRange(0, int(kindCount)-1).Draw(t, "kind"))
		altitude := unit.Degree(rapid.Float64Range(-40, 90).Draw(t, "altitude"))
		azimuth := rapid.Float64Range(0, 359).Draw(t, "azimuth")
		l := LuminancesAt(altitude, unit.Bearing(azimuth), 1234, k)
		sum := 0.0
		for i, v := range l {
			if !(v > 0) {
				t.Fatalf("patch %d: %v", i, v)
			}
			sum += float64(v) * Patches[i].Horizontal
		}
		if math.Abs(sum-1234) > 1e-9*1234 {
			t.Fatalf("level ground gets %v", sum)
		}
		turned := LuminancesAt(altitude, unit.Bearing(math.Mod(azimuth+60, 360)), 1234, k)
		first := 0
		for _, count := range bandPatches[:len(bandPatches)-1] {
			for i := range count {
				j := first + (i+count/6)%count
				if math.Abs(float64(turned[j]/l[first+i])-1) > 2e-3 {
					t.Fatalf("patch %d turned by 60°: %v, was %v", j, turned[j], l[first+i])
				}
			}
			first += count
		}
	})
}

// Zenith luminance under the traditional overcast sky at 30°: 9/(7π)·10 800 lx = 4420 cd/m², on paper.
func TestZenithOfOvercast(t *testing.T) {
	l := LuminancesAt(30, 180, LevelsAt(30, 100, Overcast).Diffuse, Overcast)
	near(t, "zenith", float64(l[144]), 4420, 5e-3) // a mean over the cap, and over patches
}

// A clear sky is brightest about the sun and darkest beyond the zenith at right angles to it.
func TestClearSkyLooksLikeOne(t *testing.T) {
	l := LuminancesAt(30, 180, 10000, Clear)
	brightest, darkest := 0, 0
	for i := range l {
		if l[i] > l[brightest] {
			brightest = i
		}
		if l[i] < l[darkest] {
			darkest = i
		}
	}
	sun := deg(30, 180)
	if a := math.Acos(Patches[brightest].Direction.Dot(sun)); a > radians(9) {
		t.Errorf("brightest %v away from the sun", a)
	}
	if a := math.Acos(Patches[darkest].Direction.Dot(sun)) * 180 / math.Pi; math.Abs(a-90) > 15 {
		t.Errorf("darkest %.0f° from the sun, want about 90°", a)
	}
}
