package transport

import (
	"math"

	"gloam/internal/numeric"
	"gloam/internal/spectrum"
	"gloam/internal/unit"
)

// Batches is how many independent sets of paths each receiver has; their scatter is the standard error.
const Batches = 32

// Layers is the light at every receiver, emitter by emitter, at full output. A Layer's response in a band is the level
// the emitter would give were all its light in that band: lux at a flat or dome receptor, cd/m² at a spot, for a lamp
// at full output; for a sky or sun per unit as scene.Kind says. Columns are numbered by scene.Scene.Column.
type Layers struct {
	Points []Point

	kept *kept // for Moved; nil where the request asked for none
}

// Point is the layers at one receiver.
type Point struct {
	Response []spectrum.Band // by column
	Direct   []spectrum.Band // the part that met nothing but what it passed unbent
	Via      [][]float64     // by emitter and piece of cloth: the part, of the mean over bands, that met the cloth
	Paths    int             // paths traced

	batches [Batches][]spectrum.Band
}

// Level returns the sum of the response under the given weights, one Band a column, and its standard error from the
// scatter of the batches; both in the unit of the weights. Errors of columns are not independent (they share paths):
// this sum knows how they hang together. The error is +Inf where too little was traced to know it.
func (p *Point) Level(weights []spectrum.Band) (level, stderr float64) {
	var sums [Batches]float64
	for i := range sums {
		sums[i] = dot(p.batches[i], weights)
	}
	return numeric.MeanError(sums[:])
}

// DirectLevel returns the sum of the direct part under the given weights. It carries no error of its own: for all but
// soft shadow edges it is exact.
func (p *Point) DirectLevel(weights []spectrum.Band) float64 { return dot(p.Direct, weights) }

// LevelOf returns Level over some columns alone.
func (p *Point) LevelOf(weights []spectrum.Band, columns ...int) (level, stderr float64) {
	var sums [Batches]float64
	for i := range sums {
		for _, c := range columns {
			sums[i] += weights[c].Dot(p.batches[i][c])
		}
	}
	return numeric.MeanError(sums[:])
}

// StopError returns a standard error in stops for a level: stderr over the level, on the scale of log2. A dark point
// (level 0) has none.
func StopError(level, stderr float64) unit.Stop {
	if level <= 0 {
		return 0
	}
	return unit.Stop(stderr / level / math.Ln2)
}

func dot(a, b []spectrum.Band) float64 {
	var s float64
	for c := range a {
		for k := range a[c] {
			s += a[c][k] * b[c][k]
		}
	}
	return s
}
