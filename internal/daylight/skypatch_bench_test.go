package daylight

import (
	"math"
	"testing"

	"gloam/internal/unit"
)

// BenchmarkDay is a whole day of 24 hours in steps of a minute under three states of the sky: levels, the luminance of every
// patch, and what they make at thirty points whose share of each patch is known. The sun is up for 14 hours.
func BenchmarkDay(b *testing.B) {
	const points = 30
	var response [points][PatchCount]float64
	for i := range response {
		for k := range response[i] {
			response[i][k] = 1 / float64(1+i+k)
		}
	}
	var level [points]float64
	for b.Loop() {
		for _, k := range []Kind{Clear, PartlyCloudy, Overcast} {
			for minute := range 24 * 60 {
				hour := 2 * math.Pi * float64(minute) / 1440
				altitude, azimuth := unit.Degree(12-43*math.Cos(hour)), unit.Bearing(float64(minute)/4)
				sky := LuminancesAt(altitude, azimuth, LevelsAt(altitude, 120, k).Diffuse, k)
				for i := range response {
					level[i] += sky.Through(&response[i])
				}
			}
		}
	}
	if level[0] < 0 {
		b.Fatal(level)
	}
}
