package clock

import (
	"math"
	"testing"
	"time"

	"gloam/internal/daylight"
	"gloam/internal/exposure"
	"gloam/internal/unit"
)

// The set-ups of this file are our own, invented; their answers were worked out by hand formula beside the program: the overcast
// sky as 300 + 21,000·sin h lx on level ground [RP21], a vertical surface under it (0.396 + ρ/2) of that.

func position(t testing.TB, text string) (p unit.Position) {
	t.Helper()
	if err := p.Parse(text); err != nil {
		t.Fatal(err)
	}
	return p
}

func near(t *testing.T, what string, got, want time.Time, within time.Duration) {
	t.Helper()
	if off := got.Sub(want); off > within || off < -within {
		t.Errorf("%s at %s, by hand %s", what, got.Format("15:04:05"), want.Format("15:04"))
	}
}

func close2(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.4g, by hand %.4g ±%g", what, got, want, within)
	}
}

// hours is a grid in steps of a minute.
func hours(from, to time.Time) Grid {
	return Grid{from, time.Minute, int(to.Sub(from)/time.Minute) + 1}
}

// ferry is a face at a quay in the evening, 24 m from lamps of 826 lx each under an overcast sky.
func ferry(t *testing.T, lamps float64) (*Day, *Target, func(hour, minute int) time.Time) {
	zone := time.FixedZone("UTC+2", 7200)
	at := func(hour, minute int) time.Time { return time.Date(2027, 9, 22, hour, minute, 0, 0, zone) }
	p := position(t, "57.70 N, 11.60 E")
	d := &Day{Grid: hours(at(15, 0), at(19, 30)), Sampling: make([]unit.Stop, 1)}
	sky := make(Series, d.Count)
	for i := range sky {
		h := float64(daylight.SunAt(d.At(i), p).Geometric) * math.Pi / 180
		sky[i] = 0.436 * (300 + 21000*math.Max(0, math.Sin(h)))
	}
	d.Sources = []Source{
		{Name: "sky", Ambient: true, Model: true, Parts: []Part{{sky, []Doubt{{"the sky against the model", Series{1}}}}}},
		{Name: "lamp", Most: 1, Parts: []Part{{Series{826 * lamps}, []Doubt{{"lamp", Series{0.3}}}}}},
	}
	return d, &Target{Receivers: []int{0}, Over: OverAmbient, Wanted: 1.5, Tolerance: 0.5, Lamps: []int{1}}, at
}

// The window of one lamp, of two, and with half and double the sky.
func TestDuskWindow(t *testing.T) {
	for _, c := range []struct {
		name                                    string
		lamps, sky                              float64
		openHour, openMinute, shutHour, shutMin int
	}{
		{"one lamp", 1, 1, 18, 35, 19, 1},
		{"half the sky", 1, 0.5, 17, 55, 18, 48},
		{"double the sky", 1, 2, 18, 54, 19, 7},
		{"two lamps", 2, 1, 17, 55, 18, 48},
	} {
		d, target, at := ferry(t, c.lamps)
		curve := d.Scaled(c.sky).Fixed(target)
		windows := curve.Windows(target, Likely)
		if len(windows) != 1 {
			t.Fatalf("%s: %d windows", c.name, len(windows))
		}
		near(t, c.name+" opens", windows[0].Opens, at(c.openHour, c.openMinute), 2*time.Minute)
		near(t, c.name+" closes", windows[0].Closes, at(c.shutHour, c.shutMin), 2*time.Minute)
	}
}

// A stop of doubt about the sky leaves no sure window of one stop, and a maybe window from the half to the double.
func TestSureAndMaybe(t *testing.T) {
	d, target, _ := ferry(t, 1)
	curve := d.Fixed(target)
	likely, sure, maybe := curve.Windows(target, Likely), curve.Windows(target, Sure), curve.Windows(target, Maybe)
	if len(sure) != 0 || len(maybe) != 1 || !maybe[0].Opens.Before(likely[0].Opens) || !maybe[0].Closes.After(likely[0].Closes) {
		t.Errorf("sure %v, likely %v, maybe %v", sure, likely, maybe)
	}
	d.Sources[0].Parts[0].Doubts[0].Stops = Series{0.1}
	d.Sources[1].Parts[0].Doubts[0].Stops = Series{0.1}
	curve = d.Fixed(target)
	sure = curve.Windows(target, Sure)
	if len(sure) != 1 || !sure[0].Opens.After(likely[0].Opens) || !sure[0].Closes.Before(likely[0].Closes) {
		t.Errorf("with little doubt sure %v, likely %v", sure, likely)
	}
	if w := likely[0]; !(w.Opening > 0 && w.Closing > 0 && w.Best.After(w.Opens) && w.Best.Before(w.Closes)) {
		t.Errorf("runs %+.3f and %+.3f stops a minute, best %s", w.Opening, w.Closing, w.Best)
	}
}

// A lamp that follows never lets the ratio go once it is in reach: from where it can no more than the tolerance asks for.
func TestFollowing(t *testing.T) {
	d, target, at := ferry(t, 1)
	curve, factors := d.Following(target)
	windows := curve.Windows(target, Likely)
	if len(windows) != 1 || !windows[0].GoesOn {
		t.Fatalf("windows %v", windows)
	}
	near(t, "following opens", windows[0].Opens, at(18, 35), 2*time.Minute)
	for i, f := range factors {
		if f > 1 || f < 0 {
			t.Fatalf("factor %g", f)
		}
		if f < 1 {
			close2(t, "the level that is followed", curve.Level[i], 1.5, 1e-9)
		}
	}
	// At 19:01 the ambient is 275 lx: for +1.5 the lamp gives (2^1.5 − 1)·275 = 503 lx of its 826.
	close2(t, "factor at 19:01", factors[d.Nearest(at(19, 1))], 503.0/826, 0.03)
}

// A window by day that plays dusk: the sky in it at 2,400 cd/m², 640 lx at the face by it, wanted one stop over grey.
func TestDayForDusk(t *testing.T) {
	d := Dusk{Sky: 2400, Ambient: 640, Wanted: 1}
	close2(t, "sky over grey", float64(d.OverGrey()), 6.03, 0.005)
	close2(t, "key over ambient", d.KeyOverAmbient(), 32, 1)
	steps := d.Gels(1.8, 708)
	if len(steps) != 7 {
		t.Fatal(steps)
	}
	for _, c := range []struct {
		step                       int
		ambient, sky, key, lamp, f float64
	}{
		{3, 80, 300, 2560, 2480, 3.5}, {4, 40, 150, 1280, 1240, 1.75}, {5, 20, 75, 640, 620, 0.88}, {6, 10, 37.5, 320, 310, 0.44},
	} {
		s := steps[c.step]
		close2(t, s.ND.String()+" ambient", float64(s.Ambient), c.ambient, 1e-9)
		close2(t, s.ND.String()+" sky", float64(s.Sky), c.sky, 1e-9)
		// By hand 2^5.03 was rounded to 32.
		close2(t, s.ND.String()+" key", float64(s.Key), c.key, 0.03*c.key)
		close2(t, s.ND.String()+" lamp", float64(s.Lamp), c.lamp, 0.03*c.lamp)
		close2(t, s.ND.String()+" level", s.Level, c.f, 0.03*c.f)
	}
	bare, ordered := GelArea([]unit.Size2{{Width: 1.6, Height: 1.2}, {Width: 1, Height: 0.5}})
	close2(t, "gel", bare, 2.42, 1e-9)
	close2(t, "gel with spare", ordered, 2.662, 1e-9)
}

// A window read at 13:00 under an overcast sky stays within half a stop of the reading from 09:37 to 15:13, and is brightest at
// about 12:25, by 0.02 stop.
func TestOvercastWindow(t *testing.T) {
	at := func(hour, minute int) time.Time { return time.Date(2027, 3, 3, hour, minute, 0, 0, time.UTC) }
	p := position(t, "55.95 N, 3.19 W")
	level := func(when time.Time) float64 {
		s := daylight.SunAt(when, p)
		return float64(daylight.LevelsAt(s.Geometric, s.YearDay, daylight.Overcast).Diffuse)
	}
	d := &Day{Grid: hours(at(8, 0), at(17, 0)), Sampling: make([]unit.Stop, 1)}
	sky := make(Series, d.Count)
	for i := range sky {
		sky[i] = level(d.At(i))
	}
	d.Sources = []Source{{Name: "sky", Ambient: true, Parts: []Part{{Level: sky}}}}
	target := &Target{Receivers: []int{0}, Over: OverKey, Key: level(at(13, 0)), Tolerance: 0.5}
	curve := d.Fixed(target)
	windows := curve.Windows(target, Likely)
	if len(windows) != 1 {
		t.Fatal(windows)
	}
	near(t, "opens", windows[0].Opens, at(9, 37), 2*time.Minute)
	near(t, "closes", windows[0].Closes, at(15, 13), 2*time.Minute)
	close2(t, "at its brightest", curve.Level[d.Nearest(at(12, 25))], 0.02, 0.01)
}

// chess is two lamps of 5,946 lx each at 5600 K that are to hold 2:1 over the ambient of 11:00, 6,800 lx at 6500 K. Their output
// falls from all at 5600 K to 0.95 at 6500 K, straight in mired.
var chess = Hold{
	Reference: Ambient{"11:00", 6800, 6500}, Lamp: 5600, Ratio: 1, Tolerance: 0.3,
	Camera: exposure.Camera{EI: 800, FPS: 25, Shutter: unit.Shutter{Angle: 180}, Stop: 4, Constant: 250},
	Full: func(k unit.Kelvin) (unit.Lux, error) {
		share := 1 - 0.05*max(0, 178.571-float64(k.Mired()))/(178.571-153.846)
		return unit.Lux(11892 * share), nil
	},
}

func TestHoldRatio(t *testing.T) {
	rows := []struct {
		Ambient
		level, kelvin, exposure, overKey, nd, iris float64
	}{
		{Ambient{"09:30", 3100, 7200}, 0.27, 6110, -1.13, 4.63, 1.2, 0.63},
		{Ambient{"11:00", 6800, 6500}, 0.57, 5600, 0, 5.77, 1.5, 0.77},
		{Ambient{"12:30", 9600, 6300}, 0.81, 5450, 0.50, 6.26, 1.8, 0.26},
		{Ambient{"14:00", 6100, 6600}, 0.52, 5670, -0.16, 5.61, 1.5, 0.61},
		{Ambient{"15:30", 2900, 7600}, 0.26, 6400, -1.23, 4.54, 1.2, 0.54},
		{Ambient{"pickup", 5200, 6900}, 0.45, 5890, -0.39, 5.38, 1.5, 0.38},
	}
	var readings []Ambient
	for _, r := range rows {
		readings = append(readings, r.Ambient)
	}
	got, err := chess.HoldRatio(readings)
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range rows {
		s := got[i]
		close2(t, r.Name+" level", s.Level, r.level, 0.0101)
		close2(t, r.Name+" kelvin", float64(s.LampColour), r.kelvin, 15)
		close2(t, r.Name+" exposure", float64(s.Exposure), r.exposure, 0.01)
		close2(t, r.Name+" over key", float64(s.OverKey), r.overKey, 0.01)
		close2(t, r.Name+" ND", float64(s.Filter.ND), r.nd, 1e-9)
		close2(t, r.Name+" iris", float64(s.Filter.Rest), r.iris, 0.01)
		if !s.InTolerance {
			t.Errorf("%s: out of tolerance", r.Name)
		}
	}
}

// Holding the exposure lets the ratio out of its tolerance at both ends; one lamp alone holds it only while the ambient is
// under 5,946 lx.
func TestHoldExposure(t *testing.T) {
	got, err := chess.HoldExposure([]Ambient{{"09:30", 3100, 7200}, {"12:30", 9600, 6300}})
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range []struct{ lamp, level, ratio float64 }{{10500, 0.91, 2.13}, {4000, 0.34, 0.50}} {
		close2(t, got[i].Name+" lamp", float64(got[i].Lamp), r.lamp, 1)
		close2(t, got[i].Name+" level", got[i].Level, r.level, 0.0101)
		close2(t, got[i].Name+" ratio", float64(got[i].Ratio), r.ratio, 0.005)
		if got[i].InTolerance {
			t.Errorf("%s: in tolerance", got[i].Name)
		}
	}
	one := chess
	one.Full = func(k unit.Kelvin) (unit.Lux, error) {
		full, err := chess.Full(k)
		return full / 2, err
	}
	short, err := one.HoldRatio([]Ambient{{"11:00", 6800, 6500}, {"12:30", 9600, 6300}, {"15:30", 2900, 7600}, {"14:00", 6100, 6600}})
	if err != nil {
		t.Fatal(err)
	}
	for i, reaches := range []bool{false, false, true, false} {
		if (short[i].Level <= 1) != reaches {
			t.Errorf("one lamp at %s: level %.2f", short[i].Name, short[i].Level)
		}
	}
}

// A window side at 639 lx by a gelled window at 10:00; a lamp of 450 lx takes over as the day goes.
func TestHoldWindowSide(t *testing.T) {
	h := Hold{
		Reference: Ambient{"10:00", 0.71 * 900, 3700}, Lamp: 3700, Ratio: 0, Tolerance: 3,
		Camera: exposure.Camera{EI: 800, FPS: 24, Shutter: unit.Shutter{Time: 0.02}, Stop: unit.TStop(math.Sqrt(8)), Constant: 250},
		Full:   func(unit.Kelvin) (unit.Lux, error) { return 450, nil },
	}
	got, err := h.HoldExposure([]Ambient{{"12:00", 0.71 * 1150, 3700}, {"14:00", 0.71 * 640, 3700}, {"16:00", 0.71 * 300, 3700}})
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range []struct{ lamp, level, exposure float64 }{{0, 0, 0.35}, {185, 0.41, 0}, {426, 0.95, 0}} {
		close2(t, got[i].Name+" lamp", float64(got[i].Lamp), r.lamp, 1)
		close2(t, got[i].Name+" level", got[i].Level, r.level, 0.0051)
		close2(t, got[i].Name+" exposure", float64(got[i].Exposure), r.exposure, 0.01)
	}
}

func TestHoldRefuses(t *testing.T) {
	for name, readings := range map[string][]Ambient{
		"dark": {{"now", 0, 6500}}, "no colour": {{"now", 100, 0}}, "not a number": {{"now", unit.Lux(math.NaN()), 6500}},
		"no such lamp": {{"now", 100, 1e6}},
	} {
		h := chess
		h.Lamp = 10000
		if got, err := h.HoldRatio(readings); err == nil {
			t.Errorf("%s: %v", name, got)
		}
	}
}
