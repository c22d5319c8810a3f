package clock

import (
	"math"
	"testing"
	"time"

	"gloam/internal/daylight"
	"gloam/internal/geometry"
	"gloam/internal/unit"
)

// An east wall in Bern: the sun may come in by its window until it stands in the wall's plane at 12:14, azimuth 180°, altitude
// 27.4°; it rises at 07:18 and sets at 17:09. A lamp outside looks west and 30° down: the sun comes to within 60° of its lens'
// axis from 15:25, to 45° at 16:30. Worked out by hand with an independent program, to ±2 min.
func TestSunOnWallAndInLens(t *testing.T) {
	zone := time.FixedZone("UTC+1", 3600)
	at := func(hour, minute int) time.Time { return time.Date(2027, 11, 5, hour, minute, 0, 0, zone) }
	p := position(t, "46.95 N, 7.45 E")
	up := Over(0) // the middle of the disc on the horizon, as seen
	wall := SunWhen(at(0, 0), at(23, 59), p, Both(up, Near(Axis{90, 0}, 90)))
	if len(wall) != 1 {
		t.Fatal(wall)
	}
	near(t, "the sun leaves the wall", wall[0].To, at(12, 14), 2*time.Minute)
	near(t, "the sun comes to the wall", wall[0].From, at(7, 18), 4*time.Minute) // the disc's edge is 2 min ahead of its middle
	lens := Axis{270, -30}
	within := SunWhen(at(0, 0), at(23, 59), p, Both(up, Near(lens, 60)))
	if len(within) != 1 {
		t.Fatal(within)
	}
	near(t, "the sun comes within 60° of the lens' axis", within[0].From, at(15, 25), 2*time.Minute)
	s := daylight.SunAt(at(16, 30), p)
	close2(t, "apart at 16:30", 45-Near(lens, 45)(s), 45, 0.5)
	s = daylight.SunAt(at(12, 14), p)
	close2(t, "altitude in the wall's plane", float64(s.Altitude), 27.4, 0.3)
	close2(t, "azimuth in the wall's plane", float64(s.Azimuth), 180, 0.3)
}

// Behind a bowl of snow in Colorado the sun stands within 15° of a lens' bearing of 170° from 10:58 to 12:35, 97 min, and never in
// the picture of a level 35 mm lens on a 24.9 × 13.1 mm sensor, whose top edge is 10.6° up. By hand with an independent program.
func TestBackLight(t *testing.T) {
	zone := time.FixedZone("UTC-7", -7*3600)
	at := func(hour, minute int) time.Time { return time.Date(2027, 2, 20, hour, minute, 0, 0, zone) }
	p := position(t, "39.60 N, 106.50 W")
	back := SunWhen(at(0, 0), at(23, 59), p, Both(Over(0), Beside(170, 15)))
	if len(back) != 1 {
		t.Fatal(back)
	}
	near(t, "back-light from", back[0].From, at(10, 58), 2*time.Minute)
	near(t, "back-light to", back[0].To, at(12, 35), 2*time.Minute)
	close2(t, "minutes of back-light", back[0].To.Sub(back[0].From).Minutes(), 97, 2)
	close2(t, "bearing at 11:48", float64(daylight.SunAt(at(11, 48), p).Azimuth), 170, 0.3)

	across, up := lensAngle(24.9), lensAngle(13.1)
	close2(t, "top edge", float64(up), 10.6, 0.05)
	level := Axis{170, 0}.Vector()
	basis := geometry.Basis{X: Axis{260, 0}.Vector(), Y: geometry.Vector{Z: -1}, Z: level}
	if in := SunWhen(at(0, 0), at(23, 59), p, Both(Over(0), Inside(basis, across, up))); len(in) != 0 {
		t.Errorf("the sun is in the picture %v", in)
	}
	// Tilted up to where it stands at 11:48, it is.
	s := daylight.SunAt(at(11, 48), p)
	tilted := Axis{s.Azimuth, s.Altitude}.Vector()
	basis = geometry.About(tilted)
	in := SunWhen(at(0, 0), at(23, 59), p, Inside(basis, 1, 1))
	if len(in) != 1 || in[0].From.After(at(11, 48)) || in[0].To.Before(at(11, 48)) {
		t.Errorf("looking at the sun of 11:48 it is in the picture %v", in)
	}
}

func lensAngle(side float64) unit.Degree { return unit.Degree(math.Atan(side/2/35) * 180 / math.Pi) }

func TestAxisThereAndBack(t *testing.T) {
	for _, a := range []Axis{{0, 0}, {90, 10}, {200, -45}, {359, 89}} {
		b := AxisOf(a.Vector())
		close2(t, "azimuth", float64(b.Azimuth), float64(a.Azimuth), 1e-9)
		close2(t, "altitude", float64(b.Altitude), float64(a.Altitude), 1e-9)
	}
}
