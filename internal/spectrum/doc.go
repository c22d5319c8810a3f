// Package spectrum holds what light and matter do at each wavelength: curves, the eight bands light is carried in,
// sources, gels and reflectances.
//
// The rule of the engine: a layer gives a response R in each band, the level a source would give were all its light in that
// band. The source's spectrum is applied afterwards, as a Light.
package spectrum
