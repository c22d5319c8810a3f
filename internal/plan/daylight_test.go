package plan

import (
	"math"
	"strings"
	"testing"
	"time"

	"gloam/internal/unit"
)

// modelled is a plan whose daylight is the model's, with a reading of it.
const modelled = `gloam: 1
title: A model day
place: 55.95 N, 3.19 W
date: 2027-06-21
time: 13:00
zone: Europe/London
sky: clear
skyline: {points: [0 10, 90 20, 180 5], bearings: magnetic, declination: -3 deg}
set: {north: 90 deg, rooms: {shop: {size: 5 x 4 x 3 m, openings: {window: {wall: far, size: 2 x 1 m}}}}}
points: {desk: {at: 2 1 1, faces: sun}}
ambient: {noon: {reading: 90000 lx, clock: 12:40, shape: daylight}}
camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8}
`

func TestModelSky(t *testing.T) {
	p := sound(t, modelled)
	d := &p.Document
	if want := time.Date(2027, 6, 21, 12, 0, 0, 0, time.UTC); !d.Instant().Equal(want) {
		t.Errorf("the instant is %v, want %v: summer time", d.Instant(), want)
	}
	a := &d.Ambient[0].Value
	if want := time.Date(2027, 6, 21, 11, 40, 0, 0, time.UTC); !d.When(a).Equal(want) || a.Sky != "clear" || *a.Doubt != 0.1 {
		t.Errorf("the reading is of %v under %q ± %v", d.When(a), a.Sky, *a.Doubt)
	}
	skyline, err := d.Skyline.True()
	if err != nil {
		t.Fatal(err)
	}
	// A compass that points 3° west of north shows 90° where the true bearing is 87°.
	if h := skyline.Height(87); math.Abs(float64(h)-20) > 1e-9 {
		t.Errorf("at 87° from true north the skyline is %v high, want 20°", h)
	}
	// 13:00 in summer time is three quarters of an hour before the sun is highest, so the sun stands east of south. With +y to
	// the east, south is +x and east +y.
	sun, ok := NewLocator(d).sun()
	if !ok || sun.X <= 0 || sun.Y <= 0 || math.Abs(math.Asin(sun.Z)*180/math.Pi-57) > 1 {
		t.Errorf("the sun stands toward %v", sun)
	}
}

func TestViewAt(t *testing.T) {
	p := sound(t, modelled)
	v, faults := p.Setup("plan")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	later, err := v.At(unit.Clock(17 * 60))
	if err != nil || later.Document.Instant().Sub(v.Document.Instant()) != 4*time.Hour {
		t.Errorf("%v, %v", later, err)
	}
	read, _ := sound(t, plain).Setup("plan")
	if _, err := read.At(600); err == nil || !strings.Contains(err.Error(), "has no hours") {
		t.Errorf("readings have no hours, got %v", err)
	}
	spring := sound(t, strings.ReplaceAll(modelled, "2027-06-21", "2027-03-28"))
	v, _ = spring.Setup("plan")
	if _, err := v.At(90); err == nil || !strings.Contains(err.Error(), "does not exist") {
		t.Errorf("01:30 is leapt over, got %v", err)
	}
}

func TestModelSkyFaults(t *testing.T) {
	for _, row := range []struct{ name, old, fresh, want string }{
		{"no place", "place: 55.95 N, 3.19 W\n", "", "sky: the model's sun and sky hang on where and when, and the plan has no place"},
		{"no zone and no time", "time: 13:00\nzone: Europe/London\n", "", "has no time, no zone"},
		{"a year out of range", "date: 2027-06-21", "date: 1812-06-21", "is not between 1900 and 2100"},
		{"no state of the sky", "sky: clear", "sky: lovely", "is not a state of the sky"},
		{"a time in the gap", "date: 2027-06-21\ntime: 13:00", "date: 2027-03-28\ntime: 01:30", "time: is a time that does not exist"},
		{"a time in the fold", "date: 2027-06-21\ntime: 13:00", "date: 2027-10-31\ntime: 01:30",
			"time: is a time that comes twice: the clock is put back over it; read \"01:30\"; write the zone as UTC+01:00 or UTC+00:00"},
		{"a reading without a clock", ", clock: 12:40", "", "ambient.noon: a reading of daylight needs its clock time"},
		{"a reading in the fold", "clock: 12:40", "date: 2027-10-31, clock: 01:10", "ambient.noon.clock: is a time that comes twice"},
		{"a reading of no sky there is", "clock: 12:40", "clock: 12:40, sky: milky", "ambient.noon.sky: is not a state of the sky"},
		{"a reading without a model", "sky: clear\n", "", "corrects the model, and the plan has no sky"},
		{"a reading of a source beside the model", "shape: daylight", "point: desk, shape: dome", "the model's sky gives this light already"},
		{"a lamp called as the sky", "ambient:", "lamps: {sky: {kit: B12-D60, at: 4 1 2, aim: desk}}\nambient:", "the model's own light is called \"sky\""},
		{"indoors at no place", "clock: 12:40", "clock: 12:40, sky: overcast, outside: 9000 lx", "does not say where it was read"},
		{"a daylight factor under sun", "clock: 12:40", "clock: 12:40, point: desk, outside: 9000 lx", "holds under a sky without sun"},
		{"a skyline out of order", "0 10, 90 20, 180 5", "0 10, 180 5, 90 20", "skyline.points: is out of order"},
		{"a skyline met twice", "90 20, 180 5", "90 20, 90 5", "has the bearing of the point before it"},
		{"a skyline without points", "[0 10, 90 20, 180 5]", "[]", "skyline"},
		{"a skyline of one figure", "90 20, 180 5", "90", "is not a bearing and a height"},
		{"magnetic without declination", ", declination: -3 deg", "", "magnetic bearings need a declination"},
		{"true with declination", "bearings: magnetic", "bearings: true", "true bearings have no declination"},
	} {
		t.Run(row.name, func(t *testing.T) {
			if strings.Count(modelled, row.old) != 1 {
				t.Fatalf("%q does not stand once in the plan", row.old)
			}
			_, faults := readText(strings.Replace(modelled, row.old, row.fresh, 1))
			if err := faults.Err(); err == nil || !strings.Contains(faults.Error(), row.want) {
				t.Errorf("got\n%v\nwant %s", faults.Error(), row.want)
			}
		})
	}
}

// A set-up may bring what the plan lacks, and have another sky.
func TestModelSkyOfSetups(t *testing.T) {
	p := sound(t, strings.Replace(modelled, "time: 13:00\n", "", 1)+"setups: {early: {time: 9:00}, late: {time: 17:00, sky: overcast}}\n")
	late, _ := p.Setup("late")
	if late.Document.Sky.String() != "overcast" || late.Document.Instant().Hour() != 17 {
		t.Errorf("late is %v under %v", late.Document.Instant(), late.Document.Sky)
	}
}
