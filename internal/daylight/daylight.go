// Package daylight knows the light nobody can dim: where sun and moon stand over a place at a time and when they rise, set and
// pass an altitude there; what a skyline hides of them; and how bright, how coloured and how spread over the sky their light is.
//
// Positions hold from 1900 to 2100, the years of a plan's date; geometric altitudes of the sun to 0.003°, the moon to 0.02°. What the air
// does near the horizon is the doubt of every rise and set: refraction there varies by a tenth of a degree and more with the
// weather, a minute of clock at middle latitudes. Height above the sea and its lower horizon are left out: the skyline is the
// place for them. The levels of the sky are a climate's mean, and say how far hours stray from it.
package daylight
