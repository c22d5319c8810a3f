package exposure

import (
	"math"

	"gloam/internal/unit"
)

// NDNeeded returns the neutral density that makes the level the key, in stops and without regard to the filter that is
// in the camera: log2(E·EI·t/(C·T²)). Below 0 the exposure lacks light.
func (c Camera) NDNeeded(level unit.Lux) unit.Stop {
	c.ND = 0
	return c.OverKey(level)
}

// NDSplit is one filter and three ways to deal with what it leaves. Each way takes the whole rest alone.
type NDSplit struct {
	ND      unit.Density
	Rest    unit.Stop    // light left over; below 0 the filter takes too much
	Stop    unit.TStop   // the iris that takes the rest
	EI      unit.EI      // the exposure index that takes it
	Shutter unit.Shutter // the shutter that takes it; zero where no frame is long enough
}

// enough is the rest in stops that nobody sets.
const enough = 0.01

// NDSplits returns the filters in steps of 0.3, one stop each, that come next to what the level, above 0, needs: the
// weaker first. There is one alone where a filter fits, or where the light is too little for any.
func (c Camera) NDSplits(level unit.Lux) []NDSplit {
	need := c.NDNeeded(level)
	if fit := math.Round(float64(need)); fit >= 0 && math.Abs(float64(need)-fit) < enough {
		return []NDSplit{c.split(need, fit)}
	}
	if need < 0 {
		return []NDSplit{c.split(need, 0)}
	}
	below := math.Floor(float64(need))
	return []NDSplit{c.split(need, below), c.split(need, below+1)}
}

func (c Camera) split(need unit.Stop, filter float64) NDSplit {
	rest := need - unit.Stop(filter)
	s := NDSplit{
		ND:   unit.Density(filter * 3 / 10),
		Rest: rest,
		Stop: c.Stop.Closed(rest),
		EI:   c.EI / unit.EI(rest.Factor()),
	}
	c.Shutter.Angle /= unit.Degree(rest.Factor())
	c.Shutter.Time /= unit.Second(rest.Factor())
	if fits(c.ExposureTime(), c.FPS) {
		s.Shutter = c.Shutter
	}
	return s
}
