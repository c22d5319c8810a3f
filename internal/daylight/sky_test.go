package daylight

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"gloam/internal/geometry"
)

// rows reads a table of testdata: lines of numbers below a line of names, comments above.
func rows(t *testing.T, name string) []map[string]float64 {
	t.Helper()
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	lines, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var all []map[string]float64
	for _, line := range lines[1:] {
		row := map[string]float64{}
		for i, cell := range line {
			if row[lines[0][i]], err = strconv.ParseFloat(cell, 64); err != nil {
				t.Fatal(err)
			}
		}
		all = append(all, row)
	}
	if len(all) < 8 {
		t.Fatalf("%s: %d rows", name, len(all))
	}
	return all
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s: %.6g, want %.6g within %.3g %%", what, got, want, 100*tolerance)
	}
}

func deg(altitude, azimuth float64) geometry.Vector {
	return toward(radians(altitude), radians(azimuth))
}

// luminance returns the luminance toward a direction over that of the zenith, with the sun in another [CIES011], equation 1.
func (s generalSky) luminance(direction, sun geometry.Vector) float64 {
	at := func(d geometry.Vector) float64 {
		return s.gradation(d.Z) * s.indicatrix(math.Acos(max(-1, min(1, d.Dot(sun)))))
	}
	return at(direction) / at(geometry.Up)
}

// The table's luminances follow from the formulae of [CIES011].
func TestStandardSkiesAtPoints(t *testing.T) {
	for _, r := range rows(t, "sky_points.csv") {
		s := standardSkies[int(r["type"])]
		got := s.luminance(deg(r["gamma_deg"], 40+r["az_from_sun_deg"]), deg(r["sun_alt_deg"], 40))
		near(t, fmt.Sprint(r), got, r["L_over_Lz"], 1e-5)
	}
}

// illuminance integrates a sky over a facing by the midpoint rule, fine enough for the circumsolar glow.
func illuminance(s generalSky, sun, facing geometry.Vector) float64 {
	const steps = 180
	sum := 0.0
	for i := range steps {
		altitude := (float64(i) + 0.5) / steps * math.Pi / 2
		for k := range 2 * steps {
			d := toward(altitude, (float64(k)+0.5)/steps*math.Pi)
			if cosine := d.Dot(facing); cosine > 0 {
				sum += s.luminance(d, sun) * cosine * math.Cos(altitude)
			}
		}
	}
	return sum * math.Pi / 2 / steps * math.Pi / steps
}

func TestStandardSkiesOnGroundAndWall(t *testing.T) {
	for _, r := range rows(t, "sky_horizontal.csv") {
		if testing.Short() && int(r["type"])%3 != 0 {
			continue
		}
		got := illuminance(standardSkies[int(r["type"])], deg(r["sun_alt_deg"], 0), geometry.Up)
		near(t, fmt.Sprint("level ground ", r), got, r["Eh_over_Lz"], 5e-4)
	}
	for _, r := range rows(t, "sky_vertical.csv") {
		if testing.Short() && r["psi_deg"] != 90 {
			continue
		}
		got := illuminance(standardSkies[int(r["type"])], deg(r["sun_alt_deg"], 0), deg(0, r["psi_deg"]))
		near(t, fmt.Sprint("wall ", r), got, r["Ev_over_Lz"], 1e-3)
	}
}

// The traditional overcast sky on paper: Eh/Lz = 7π/9; a wall gets (π/4+2/3)·(2/3)/(7π/9) = 0.396 of it; the zenith is three
// times the horizon.
func TestTraditionalOvercast(t *testing.T) {
	s, sun := standardSkies[traditional], deg(30, 0)
	ground := illuminance(s, sun, geometry.Up)
	near(t, "Eh/Lz", ground, 7*math.Pi/9, 3e-5)
	near(t, "Ev/Eh", illuminance(s, sun, deg(0, 77))/ground, 0.396177, 3e-5)
	near(t, "horizon", s.luminance(deg(0, 0), sun), 1.0/3, 1e-12)
	near(t, "45°", s.luminance(deg(45, 0), sun), 0.80474, 1e-5)
}

// A window's vertical sky component on paper: with all sky hidden up to one altitude γ, (2/3)·(π/4-γ/2-sin
// 2γ/4+2·cos³γ/3)/(7π/9); and the British daylight guides' 27 % where a long building opposite stands 25° high.
func TestVerticalSkyComponent(t *testing.T) {
	ring := func(_, elevation float64) float64 { return elevation }
	building := func(azimuth, elevation float64) float64 { return math.Atan(math.Tan(elevation) * math.Cos(azimuth)) }
	for _, c := range []struct {
		name            string
		skyline         func(azimuth, elevation float64) float64
		elevation, want float64
		tolerance       float64
	}{
		{"open", ring, 0, 39.62, 0.02},
		{"ring of 10°", ring, 10, 34.09, 0.02},
		{"ring of 20°", ring, 20, 27.38, 0.02},
		{"ring of 25°", ring, 25, 23.79, 0.02},
		{"ring of 30°", ring, 30, 20.19, 0.02},
		{"ring of 45°", ring, 45, 10.32, 0.02},
		{"building of 25°", building, 25, 27, 0.5},
	} {
		sum := 0.0
		const steps = 400
		for k := range steps {
			azimuth := ((float64(k)+0.5)/steps - 0.5) * math.Pi
			low := c.skyline(azimuth, radians(c.elevation))
			for i := range steps {
				altitude := low + (float64(i)+0.5)/steps*(math.Pi/2-low)
				wall := math.Pow(math.Cos(altitude), 2) * math.Cos(azimuth) * (math.Pi/2 - low)
				sum += standardSkies[traditional].gradation(math.Sin(altitude)) * wall
			}
		}
		if got := 100 * sum / steps / steps * math.Pi / (7 * math.Pi / 9); math.Abs(got-c.want) > c.tolerance {
			t.Errorf("%s: %.3f %%, want %.2f %%", c.name, got, c.want)
		}
	}
}

func TestKindsAreReadAsWritten(t *testing.T) {
	used := map[string]string{}
	for k := range kindCount {
		forms := []string{k.String(), strings.ToUpper(k.String()), " " + strings.ReplaceAll(k.String(), " ", "-")}
		for _, word := range append(forms, skies[k].words...) {
			var got Kind
			if err := got.Parse(word); err != nil || got != k {
				t.Errorf("%q: %v %v, want %v", word, got, err, k)
			}
		}
		for _, word := range append([]string{k.String()}, skies[k].words...) {
			if other, twice := used[word]; twice {
				t.Errorf("%q means %s and %s", word, other, k)
			}
			used[word] = k.String()
		}
		if !strings.Contains(k.Forms(), k.String()) {
			t.Errorf("Forms leaves out %s", k)
		}
	}
	k := Broken
	if err := k.Parse("plaid"); err == nil || k != Broken {
		t.Errorf("plaid: %v, %v", k, err)
	}
}
