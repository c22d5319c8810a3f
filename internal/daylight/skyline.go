package daylight

import (
	"fmt"
	"sort"
	"time"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

// Magnetic is a direction on the ground in degrees clockwise from where a compass needle points. It is no unit.Bearing: True
// makes it one.
type Magnetic float64

// True returns the bearing from true north where the needle points so many degrees east of it (west negative).
func (m Magnetic) True(declination unit.Degree) unit.Bearing {
	return unit.Bearing(turn(float64(m) + float64(declination)))
}

// SkylinePoint is how high the skyline stands in a direction: the angle above level, as a clinometer shows it.
type SkylinePoint struct {
	Bearing unit.Bearing
	Height  unit.Degree
}

// Skyline is what stands before the sky all round a place, straight between its points in bearing and height.
type Skyline struct{ points []SkylinePoint }

// NewSkyline returns the skyline through points that go round clockwise; the first may lie anywhere, and one point is the same
// height all round. Every point out of order, met twice or not between -90° and 90° high is told as a fault.
func NewSkyline(points []SkylinePoint) (*Skyline, error) {
	var faults fault.List
	if len(points) == 0 {
		faults = append(faults, fault.Fault{Text: "a skyline needs a point"})
	}
	start := 0 // of the point with the least bearing
	for i, p := range points {
		name := fmt.Sprintf("point %d", i+1)
		if !(p.Height > -90 && p.Height < 90) {
			faults = append(faults, fault.Fault{Path: name, Text: "is a height no skyline has", Read: p.Height.String(), Allowed: "between -90° and 90°"})
		}
		if !(p.Bearing >= 0 && p.Bearing < 360) {
			faults = append(faults, fault.Fault{Path: name, Text: "is no bearing", Read: p.Bearing.String(), Allowed: "from 0° to below 360°"})
		}
		if i == 0 || p.Bearing > points[i-1].Bearing {
			continue
		}
		switch {
		case p.Bearing == points[i-1].Bearing:
			faults = append(faults, fault.Fault{Path: name, Text: "has the bearing of the point before it", Read: p.Bearing.String(),
				Hint: "write an upright edge as two points a tenth of a degree apart"})
		case start > 0 || points[len(points)-1].Bearing >= points[0].Bearing:
			faults = append(faults, fault.Fault{Path: name, Text: "is out of order: points go round clockwise, once", Read: p.Bearing.String()})
		default:
			start = i
		}
	}
	if err := faults.Err(); err != nil {
		return nil, err
	}
	return &Skyline{append(append([]SkylinePoint{}, points[start:]...), points[:start]...)}, nil
}

// Height returns the skyline's height in a direction.
func (s *Skyline) Height(azimuth unit.Bearing) unit.Degree {
	n := len(s.points)
	after := sort.Search(n, func(i int) bool { return s.points[i].Bearing > azimuth })
	a, b := s.points[(after+n-1)%n], s.points[after%n]
	width := turn(float64(b.Bearing - a.Bearing))
	if width == 0 {
		return a.Height
	}
	share := turn(float64(azimuth-a.Bearing)) / width
	return a.Height + unit.Degree(share)*(b.Height-a.Height)
}

// skylineStep is how far apart the sun is looked at behind a skyline. What it passes in less may be missed.
const skylineStep = time.Minute

// Over returns when any of the sun's disc, lifted by refraction, stands over the skyline, from one instant up to a later one;
// each end to a second. A gap or a mast that the sun passes in less than a minute may be missed.
func (s *Skyline) Over(from, to time.Time, p unit.Position) []Span {
	seen := func(t time.Time) bool {
		sun := SunAt(t, p)
		return sun.Altitude+sun.Radius > s.Height(sun.Azimuth)
	}
	edges := []time.Time{from}
	was := seen(from)
	for t := from; t.Before(to); {
		end := t.Add(skylineStep)
		if end.After(to) {
			end = to
		}
		is := seen(end)
		if is != was {
			edges = append(edges, whenTurns(t, end, seen))
		}
		t, was = end, is
	}
	return spansWhere(append(edges, to), seen)
}
