package chart

import "math"

// Scale maps values to places along one direction of a drawing: Values[0] stands at Places[0], Values[1] at Places[1], and
// between them it is linear.
type Scale struct {
	Name, Unit string
	Vertical   bool
	Places     [2]float64
	Values     [2]float64
}

// newScale returns a scale whose two values differ, whatever came in.
func newScale(name, unit string, vertical bool, places, values [2]float64) Scale {
	if !(values[1] > values[0]) {
		values[1] = values[0] + 1
	}
	return Scale{name, unit, vertical, places, values}
}

// at returns the place of a value; NaN has none and stays NaN.
func (s Scale) at(value float64) float64 {
	return s.Places[0] + (value-s.Values[0])/(s.Values[1]-s.Values[0])*(s.Places[1]-s.Places[0])
}

// within returns the place of the nearest value that is on the scale.
func (s Scale) within(value float64) float64 {
	return s.at(min(max(value, s.Values[0]), s.Values[1]))
}

// unit returns the length of one unit of value.
func (s Scale) unit() float64 { return math.Abs(s.Places[1]-s.Places[0]) / (s.Values[1] - s.Values[0]) }

// step returns the least of the steps that lie room or more apart, or the last.
func (s Scale) step(room float64, steps ...float64) float64 {
	for _, step := range steps {
		if step*s.unit() >= room {
			return step
		}
	}
	return steps[len(steps)-1]
}

// ticks returns the multiples of a step that are on the scale.
func (s Scale) ticks(step float64) []float64 {
	var ticks []float64
	for k := math.Ceil(s.Values[0]/step - 1e-9); k*step <= s.Values[1]+1e-9*step; k++ {
		ticks = append(ticks, k*step)
	}
	return ticks
}

// span grows a range so that it holds a value; a value that is no finite number changes nothing.
type span struct {
	low, high float64
	any       bool
}

func (s *span) hold(values ...float64) {
	for _, v := range values {
		switch {
		case !finite(v):
		case !s.any:
			s.low, s.high, s.any = v, v, true
		default:
			s.low, s.high = min(s.low, v), max(s.high, v)
		}
	}
}

// bounded returns the nearest value that lies within a limit of 0.
func bounded(v, limit float64) float64 { return min(max(v, -limit), limit) }

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
