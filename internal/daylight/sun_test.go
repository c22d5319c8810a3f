package daylight

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"pgregory.net/rapid"

	"gloam/internal/unit"
)

// cells returns the rows of a table of texts by column.
func cells(t *testing.T, name string) []map[string]string {
	t.Helper()
	file, err := os.Open(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	reader := csv.NewReader(file)
	reader.Comment = '#'
	lines, err := reader.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, line := range lines[1:] {
		row := map[string]string{}
		for i, cell := range line {
			row[lines[0][i]] = cell
		}
		rows = append(rows, row)
	}
	return rows
}

func figure(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// within checks a number to an absolute tolerance.
func within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.8g, want %.8g within %.2g", what, got, want, tolerance)
	}
}

func instant(t *testing.T, text string) time.Time {
	t.Helper()
	at, err := time.Parse(time.RFC3339, text)
	if err != nil {
		t.Fatal(err)
	}
	return at
}

func placeOf(t *testing.T, row map[string]string) unit.Position {
	t.Helper()
	return unit.Position{Latitude: unit.Degree(figure(t, row["lat"])), Longitude: unit.Degree(figure(t, row["lon"]))}
}

// golden is the place of the worked example in [SPA], table A5.1, without its 1830 m above the sea: those move the sun by
// 0.003" of arc.
var golden = unit.Position{Latitude: 39.742476, Longitude: -105.1786}

// TestWorkedExample is [SPA], table A5.1: 2003-10-17 12:30:30, UTC-7, ΔT 67 s.
func TestWorkedExample(t *testing.T) {
	at := instant(t, "2003-10-17T12:30:30-07:00")
	m := momentOf(at)
	within(t, "Julian day", m.days+2451545, 2452930.312847, 1e-6)
	m.centuries = (m.days + 67.0/86400) / 36525
	e := eclipticAt(m)
	millennia := m.centuries / 10
	within(t, "L", turn(degrees(sum(earthLongitude, millennia))), 24.0182616917, 1e-6)
	within(t, "B", degrees(sum(earthLatitude, millennia)), -0.0001011219, 1e-9)
	within(t, "R", sum(earthRadius, millennia), 0.9965422974, 1e-9)
	within(t, "obliquity", e.obliquity, 23.440465, 1e-6)
	b, _, longitude := sunBody(m, e)
	within(t, "λ", longitude, 204.0085519281, 1e-6)
	within(t, "α", turn(degrees(b.rightAscension)), 202.22741, 1e-5)
	within(t, "δ", degrees(b.declination), -9.31434, 1e-5)
	s := b.over(golden, m, e)
	within(t, "altitude without air", s.altitude, 39.872046, 2e-6)
	within(t, "azimuth", s.azimuth, 194.34024, 1e-5)
	// The example's air is 820 hPa and 11 °C; equation 42 scales the lift by both.
	lift := (apparentAltitude(s.altitude) - s.altitude) * 820 / 1010 * 283 / (273 + 11)
	within(t, "altitude with refraction", s.altitude+lift, 39.888378, 2e-5)
}

// TestMeeusExample is [Meeus1998], example 25.b: 1992-10-13 0h dynamical time.
func TestMeeusExample(t *testing.T) {
	at := instant(t, "1992-10-13T00:00:00Z")
	m := momentOf(at)
	m.centuries = m.days / 36525
	b, distance, _ := sunBody(m, eclipticAt(m))
	within(t, "α", turn(degrees(b.rightAscension)), 198.37817, 1e-4)
	within(t, "δ", degrees(b.declination), -7.78387, 1e-4)
	within(t, "R", distance, 0.997608, 1e-6)
}

// TestPositions holds the sun to three programs of others, and to 0.003°; their own spread is 0.0024°.
func TestPositions(t *testing.T) {
	for _, row := range cells(t, "sun_positions.csv") {
		t.Run(row["site"]+" "+row["utc"], func(t *testing.T) {
			s := SunAt(instant(t, row["utc"]), placeOf(t, row))
			for _, program := range []string{"astropy", "ephem", "spa"} {
				altitude := figure(t, row["alt_"+program])
				within(t, program+" altitude", float64(s.Geometric), altitude, 0.003)
				across := halfTurn(float64(s.Azimuth)-figure(t, row["az_"+program])) * math.Cos(radians(altitude))
				within(t, program+" azimuth·cos(altitude)", across, 0, 0.003)
			}
			if refracted := figure(t, row["alt_refracted_spa"]); refracted > -0.5 {
				within(t, "altitude with refraction", float64(s.Altitude), refracted, 0.003)
			}
		})
	}
}

// TestIndependentPositions holds sun and moon from 1950 to 2100 to one more program, whose word is 1' of arc.
func TestIndependentPositions(t *testing.T) {
	const word = 1.0 / 60
	for _, row := range cells(t, "independent_positions.csv") {
		t.Run(row["site"]+" "+row["utc"], func(t *testing.T) {
			at, place := instant(t, row["utc"]), placeOf(t, row)
			s, m := SunAt(at, place), MoonAt(at, place)
			altitude := figure(t, row["sun_alt"])
			within(t, "sun's altitude", float64(s.Geometric), altitude, 0.3*word)
			within(t, "sun across", halfTurn(float64(s.Azimuth)-figure(t, row["sun_az"]))*math.Cos(radians(altitude)), 0, 0.3*word)
			altitude = figure(t, row["moon_alt"])
			within(t, "moon's altitude", float64(m.Geometric), altitude, word)
			within(t, "moon across", halfTurn(float64(m.Azimuth)-figure(t, row["moon_az"]))*math.Cos(radians(altitude)), 0, word)
			within(t, "moon's phase", halfTurn(float64(m.Phase)-figure(t, row["moon_phase"])), 0, word)
			within(t, "lit share", m.Lit, figure(t, row["moon_lit"]), 0.001)
		})
	}
}

// TestRefraction is [Meeus1998], equation 16.4, at 1010 hPa and 10 °C (from memory, computed apart).
func TestRefraction(t *testing.T) {
	for _, row := range []struct{ altitude, seen float64 }{{0, 0.4830}, {10, 10.0901}, {45, 45.0169}} {
		within(t, "apparent altitude", apparentAltitude(row.altitude), row.seen, 0.002)
	}
}

// TestDeltaT holds the pieces together where they meet, and to observed values of the Astronomical Almanac (from memory).
func TestDeltaT(t *testing.T) {
	for _, year := range []float64{1900, 1920, 1941, 1961, 1986, 2005, 2050} {
		within(t, "join "+strconv.Itoa(int(year)), deltaT(year-1e-9), deltaT(year), 0.6)
	}
	for _, row := range []struct{ year, seconds float64 }{{1950, 29.15}, {1975, 45.48}, {2000, 63.83}} {
		within(t, "ΔT", deltaT(row.year), row.seconds, 0.3)
	}
	within(t, "2100 by the parabola", deltaT(2100), -20+32*2.8*2.8-0.5628*50, 1e-9)
}

func TestSunIsContinuous(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := unit.Position{Latitude: unit.Degree(rapid.Float64Range(-90, 90).Draw(r, "latitude")),
			Longitude: unit.Degree(rapid.Float64Range(-180, 180).Draw(r, "longitude"))}
		at := time.Unix(rapid.Int64Range(earliest.Unix(), latest.Unix()-120).Draw(r, "at"), 0)
		a, b := SunAt(at, p), SunAt(at.Add(time.Minute), p)
		// In a minute the sky turns by 0.25° at the most.
		if apart := a.Apart(b); !(apart > 0.2 && apart < 0.252) {
			r.Fatalf("the sun goes %v° in a minute", float64(apart))
		}
		if a.Azimuth < 0 || a.Azimuth >= 360 || math.Abs(float64(a.Geometric)) > 90 || a.Altitude < a.Geometric {
			r.Fatalf("%+v", a)
		}
	})
}

func TestYearsOutsideAreTold(t *testing.T) {
	for _, year := range []int{1, 1899, 2102, 9999} {
		at := time.Date(year, 6, 1, 0, 0, 0, 0, time.UTC)
		if InRange(at) == nil {
			t.Errorf("%d is let in", year)
		}
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%d: no panic", year)
				}
			}()
			SunAt(at, golden)
		}()
	}
}
