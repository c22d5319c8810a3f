// Package spectrum holds what light and matter do at each wavelength: curves, the eight bands light is carried in, the CIE
// observer, sources, gels and reflectances.
//
// The rule of the engine: a layer gives a response R in each band, the level a source would give were all its light in that
// band. The source's spectrum is applied afterwards, as a Light: the level is the sum over bands of R times the Light's Y.
// A light that has met nothing coloured is then exact whatever its spectrum; what coloured surfaces cost is at Edges.
//
// Sources are the CIE's illuminants, lamps by kind, black bodies, daylight by colour temperature, whites known by two numbers
// alone, bi-colour and colour-mixing lamps made of their emitters, and files of a person's own. Gels are measured or modelled.
// Fluorescence, and surfaces that mirror, are not here.
package spectrum
