package daylight

import (
	"math"

	"gloam/internal/geometry"
)

// PatchCount is the number of sky patches.
const PatchCount = 145

// Patch is one of the sky's patches: a band of altitudes by a range of azimuths.
type Patch struct {
	Direction  geometry.Vector // of its middle: x east, y north, z up
	SolidAngle float64         // sr
	Horizontal float64         // its solid angle as a level surface sees it, the integral of sin altitude, sr
}

// Patches are the sky's patches [Tregenza1987], from the lowest band up, each band clockwise from north. Together they are the
// hemisphere, without gap or overlap: their solid angles make 2π, as a level surface sees them π.
var Patches = patches()

// bandPatches is how many patches stand in each band of 12° of altitude; the last is the cap of 6° about the zenith.
var bandPatches = [8]int{30, 30, 24, 24, 18, 12, 6, 1}

// bandDegrees is the height of a band of patches.
const bandDegrees = 12

// bandSines are the sines of the altitudes between which each band lies.
func bandSines(band int) (low, high float64) {
	low = math.Sin(radians(float64(band) * bandDegrees))
	if band == len(bandPatches)-1 {
		return low, 1
	}
	return low, math.Sin(radians(float64(band+1) * bandDegrees))
}

func patches() (all [PatchCount]Patch) {
	i := 0
	for band, count := range bandPatches {
		low, high := bandSines(band)
		altitude := (float64(band) + 0.5) * bandDegrees
		if count == 1 {
			altitude = 90
		}
		for k := range count {
			share := 2 * math.Pi / float64(count)
			all[i] = Patch{
				Direction:  toward(radians(altitude), share*float64(k)),
				SolidAngle: share * (high - low),
				Horizontal: share / 2 * (high*high - low*low),
			}
			i++
		}
	}
	return all
}

// PatchOf returns the patch that a direction (unit vector, x east, y north, z up) lies in, or -1 below the horizon.
func PatchOf(direction geometry.Vector) int {
	if !(direction.Z >= 0) {
		return -1
	}
	band := min(int(math.Asin(min(1, direction.Z))*180/math.Pi/bandDegrees), len(bandPatches)-1)
	first := 0
	for _, count := range bandPatches[:band] {
		first += count
	}
	count := bandPatches[band]
	turn := math.Atan2(direction.X, direction.Y) / (2 * math.Pi)
	return first + (int(math.Floor(turn*float64(count)+0.5))+count)%count
}

// toward returns the direction of an altitude and an azimuth clockwise from north, in radians.
func toward(altitude, azimuth float64) geometry.Vector {
	sine, cosine := math.Sincos(altitude)
	east, north := math.Sincos(azimuth)
	return geometry.Vector{X: cosine * east, Y: cosine * north, Z: sine}
}

func radians(degrees float64) float64 { return degrees * math.Pi / 180 }
