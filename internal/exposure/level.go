package exposure

import (
	"math"

	"gloam/internal/unit"
)

// Illuminance returns the level from a source of the intensity, small against its distance, in air that takes nothing,
// on a surface whose normal stands off the direction to the source by the incidence: I·cos α/d². The distance is above
// 0; from 90° on the level is 0.
func Illuminance(intensity unit.Candela, distance unit.Metre, incidence unit.Degree) unit.Lux {
	weight := Flat.Response(math.Cos(incidence.Radians()))
	return unit.Lux(float64(intensity) * weight / float64(distance*distance))
}

// InverseSquare returns the level that a small source makes at the distance to, if it makes level at the distance from.
func InverseSquare(level unit.Lux, from, to unit.Metre) unit.Lux {
	return level * unit.Lux(from*from/(to*to))
}

// FallOff returns how many stops a small source loses from the near to the far distance, both above 0:
// 2·log2(far/near).
func FallOff(near, far unit.Metre) unit.Stop { return 2 * unit.Stops(float64(far/near)) }

// WalkDistance returns how near a small source may stand to the near end of a walk along its beam if the level is to
// change by no more than the swing, above 0: w/(2^(swing/2) − 1).
func WalkDistance(walk unit.Metre, swing unit.Stop) unit.Metre {
	return walk / unit.Metre((swing/2).Factor()-1)
}

// DiscExcess returns by how many stops the inverse-square law is too bright in front of the middle of an even matt disc
// of the radius: log2(1 + r²/d²), from E = πL·r²/(r²+d²). The distance is above 0.
func DiscExcess(radius, distance unit.Metre) unit.Stop {
	return unit.Stops(1 + float64(radius*radius/(distance*distance)))
}

// BeamWidth returns how wide a beam of the full angle, below 180°, is at the distance, on a plane square to its axis:
// 2·d·tan(β/2).
func BeamWidth(beam unit.Degree, distance unit.Metre) unit.Metre {
	return 2 * distance * unit.Metre(math.Tan(beam.Radians()/2))
}

// Luminance returns the luminance of a matt surface: ρ·E/π.
func Luminance(reflectance unit.Fraction, level unit.Lux) unit.Nit {
	return unit.Nit(float64(reflectance) * float64(level) / math.Pi)
}

// Reflectance returns the reflectance that a pair of readings tells of a surface: π·L/E. The level is above 0. A glossy
// surface can give more than 1.
func Reflectance(luminance unit.Nit, level unit.Lux) unit.Fraction {
	return unit.Fraction(math.Pi * float64(luminance) / float64(level))
}

// Ratio returns the lighting ratio (key + fill) : fill, where the fill, above 0, reaches both sides.
func Ratio(key, fill unit.Lux) float64 { return float64((key + fill) / fill) }

// LampOver returns the level a lamp must add to the ambient for the sum to stand so many stops, at least 0, over the
// ambient alone: A·(2ⁿ − 1).
func LampOver(ambient unit.Lux, over unit.Stop) unit.Lux { return ambient * unit.Lux(over.Factor()-1) }

// ShadowEdge returns the width of the soft edge of a shadow on a wall square to the light: the source's size times
// object to wall over source to object.
func ShadowEdge(source, sourceToObject, objectToWall unit.Metre) unit.Metre {
	return source * objectToWall / sourceToObject
}

// FarShadowEdge returns the same for a source so far away that only the angle across it counts, as the sun's 0.53°:
// 2·tan(angle/2) times object to wall.
func FarShadowEdge(across unit.Degree, objectToWall unit.Metre) unit.Metre {
	return BeamWidth(across, objectToWall)
}

// PatchGrowth returns how much larger than the window its patch of light is, for a small lamp outside: (D + x)/D, with
// D from lamp to window and x from window to patch. The sun's patch does not grow.
func PatchGrowth(lampToWindow, windowToPatch unit.Metre) float64 {
	return float64((lampToWindow + windowToPatch) / lampToWindow)
}
