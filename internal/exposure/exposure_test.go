package exposure

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"gloam/internal/fault"
	"gloam/internal/unit"
)

func TestKey(t *testing.T) {
	at := func(stop string, fps unit.FPS, angle unit.Degree) float64 {
		return float64(turned(800, fps, angle, nominal(t, stop)).Key())
	}
	inFootCandles := func(stop string) float64 { return float64(unit.Lux(at(stop, 24, 180)).FootCandles()) }
	check(t, []worked{
		{"EI 800, 24 fps, 180°, T1.4", at("T1.4", 24, 180), 30, 1e-9, fromISO2720},
		{"EI 800, 24 fps, 180°, T2", at("T2", 24, 180), 60, 1e-9, fromISO2720},
		{"EI 800, 24 fps, 180°, T2.8", at("T2.8", 24, 180), 120, 1e-9, fromISO2720},
		{"EI 800, 24 fps, 180°, T4", at("T4", 24, 180), 240, 1e-9, fromISO2720},
		{"EI 800, 24 fps, 180°, T5.6", at("T5.6", 24, 180), 480, 1e-9, fromISO2720},
		{"the same at T1.4, fc", inFootCandles("T1.4"), 2.8, 0.05, fromISO2720},
		{"the same at T2, fc", inFootCandles("T2"), 5.6, 0.05, fromISO2720},
		{"the same at T2.8, fc", inFootCandles("T2.8"), 11.1, 0.05, fromISO2720},
		{"the same at T4, fc", inFootCandles("T4"), 22.3, 0.05, fromISO2720},
		{"the same at T5.6, fc", inFootCandles("T5.6"), 44.6, 0.05, fromISO2720},
		{"EI 800, 25 fps, 180°, T1.4", at("T1.4", 25, 180), 31.25, 1e-9, fromISO2720},
		{"EI 800, 25 fps, 180°, T2.8", at("T2.8", 25, 180), 125, 1e-9, fromISO2720},
		{"EI 800, 25 fps, 180°, T4", at("T4", 25, 180), 250, 1e-9, fromISO2720},
		{"EI 800, 24 fps, 172.8°, T2.8", at("T2.8", 24, 172.8), 125, 1e-9, fromISO2720},
		{"EI 800, 24 fps, 172.8°, T5.6", at("T5.6", 24, 172.8), 500, 1e-9, fromISO2720},
		{"EI 800, 1/50 s, 2.8 as written", float64(timed(800, 1./50, 2.8).Key()), 122.5, 0.05, "N²/t = E·S/C, by hand"},
		{"bright sun: f/16 and 1/EI", float64(timed(100, 1./100, 16).Key()), 64000, 1e-6, "sunny-16 rule, " + practice},
	})
}

func TestKeyWithAnotherConstant(t *testing.T) {
	with := func(c Camera, constant unit.LuxSecond) unit.Lux {
		c.Constant = constant
		return c.Key()
	}
	// The handbooks' 25 fc is C = 25·10.764 = 269 lx s.
	const handbook = 25 * 10.763910
	check(t, []worked{
		{"EI 800, 1/50 s, 2.8 as written, C = 340", float64(with(timed(800, 1./50, 2.8), 340)), 166.6, 0.05, "N²/t = E·S/C, by hand"},
		{"EI 800, 1/48 s, T4, fc", float64(with(timed(800, 1./48, 4), handbook).FootCandles()), 24, 0.024, handbooks},
		{"EI 100, 1/50 s, 2.8, fc", float64(with(timed(100, 1./50, 2.8), handbook).FootCandles()), 98, 0.098, handbooks},
		{"EI 100, 1/50 s, 2.8, lux", float64(with(timed(100, 1./50, 2.8), handbook)), 1055, 1.055, handbooks},
		// The constant for which 100 fc is EI 100, 1/48 s, 2.8.
		{"constant of 100 fc at 2.8", float64(unit.FootCandle(100).Lux() / with(timed(100, 1./48, 2.8), 1)), 286.0, 0.05, byHand},
		{"constant of the handbooks", handbook, 269, 0.15, handbooks},
	})
}

// The table that doubles with each stop, from 100 fc at T2.8 for EI 100, 24 fps, 180°: handbooks of cinematography, from
// memory.
func TestKeyDoublesWithEachStop(t *testing.T) {
	base := turned(100, 24, 180, nominal(t, "T2.8"))
	base.Constant = 1
	base.Constant = unit.LuxSecond(unit.FootCandle(100).Lux() / base.Key())
	for stop, want := range map[string]float64{
		"T1.4": 25, "T2": 50, "T2.8": 100, "T4": 200, "T5.6": 400, "T8": 800, "T11": 1600, "T16": 3200,
	} {
		c := base
		c.Stop = nominal(t, stop)
		if got := float64(c.Key().FootCandles()); math.Abs(got-want) > 1e-9*want {
			t.Errorf("%s: %v fc, want %v", stop, got, want)
		}
	}
}

func TestExposureTime(t *testing.T) {
	of := func(angle unit.Degree, fps unit.FPS) float64 {
		return float64(turned(800, fps, angle, 4).ExposureTime())
	}
	stops := func(a, b float64) float64 { return float64(unit.Stops(a / b)) }
	const source = "angle/(360·fps), by hand"
	check(t, []worked{
		{"180° at 24", of(180, 24), 1. / 48, 1e-15, source},
		{"172.8° at 24", of(172.8, 24), 1. / 50, 1e-15, source},
		{"144° at 24", of(144, 24), 1. / 60, 1e-15, source},
		{"180° at 25", of(180, 25), 1. / 50, 1e-15, source},
		{"90° at 24", of(90, 24), 1. / 96, 1e-15, source},
		{"216° at 30", of(216, 30), 1. / 50, 1e-15, source},
		{"stated as a time", float64(timed(800, 1./50, 4).ExposureTime()), 0.02, 0, byDefinition},
		{"from 180° to 172.8°, stops", stops(of(172.8, 24), of(180, 24)), -0.0589, 1e-4, byHand},
		{"from 180° to 144°, stops", stops(of(144, 24), of(180, 24)), -0.32, 0.005, byHand},
		{"from 180° to 90°, stops", stops(of(90, 24), of(180, 24)), -1, 1e-12, byHand},
		{"from 180° to 45°, stops", stops(of(45, 24), of(180, 24)), -2, 1e-12, byHand},
		{"from 24 to 120 fps, stops", stops(of(180, 120), of(180, 24)), -2.3219, 1e-4, byHand},
	})
}

func TestOverKey(t *testing.T) {
	key250 := turned(800, 25, 180, 4)
	key120 := turned(800, 24, 180, nominal(t, "T2.8"))
	speeds := func(a, b unit.EI) float64 {
		return float64(turned(a, 24, 180, 4).OverKey(turned(b, 24, 180, 4).Key()))
	}
	check(t, []worked{
		{"1100 lx against 250", float64(key250.OverKey(1100)), 2.14, 0.005, byHand},
		{"640 lx against 120", float64(key120.OverKey(640)), 2.41, 0.006, byHand},
		{"stop for 640 lx, EI 800, 1/48 s", float64(key120.StopFor(640)), 6.5, 0.05, byHand},
		{"stop for 100 fc, EI 100, 1/50 s", float64(timed(100, 1./50, 4).StopFor(unit.FootCandle(100).Lux())), 2.93, 0.005, byHand},
		{"the same against T2.8, stops", float64(timed(100, 1./50, nominal(t, "T2.8")).OverKey(unit.FootCandle(100).Lux())), 0.11, 0.005, "100 fc, EI 100, T2.8 is " + practice},
		{"ISO 800 over 100", speeds(800, 100), 3, 1e-12, byHand},
		{"ISO 1280 over 800", speeds(1280, 800), 0.6781, 1e-4, byHand},
		{"ISO 500 over 400", speeds(500, 400), 0.3219, 1e-4, byHand},
	})
	if got := key120.OverKey(0); !math.IsInf(float64(got), -1) {
		t.Errorf("no light at all is %v stops over key, want −∞", float64(got))
	}
}

func TestTones(t *testing.T) {
	c := turned(800, 24, 180, nominal(t, "T2.8"))
	tone := func(reflectance unit.Fraction) float64 { return float64(c.ToneOf(reflectance, c.Key())) }
	const source = "log2(ρ/0.18), by hand"
	const likely = source + "; the reflectance is " + practice
	check(t, []worked{
		{"grey card 0.18", tone(0.18), 0, 1e-12, byDefinition},
		{"white card 0.90", tone(0.90), 2.32, 0.005, source},
		{"fresh snow 0.85", tone(0.85), 2.24, 0.005, source},
		{"light skin 0.36", tone(0.36), 1, 1e-9, likely},
		{"medium skin, from 0.18", tone(0.18), 0, 1e-9, likely},
		{"medium skin, to 0.25", tone(0.25), 0.5, 0.03, likely},
		{"deep skin, from 0.06", tone(0.06), -1.6, 0.02, likely},
		{"deep skin, to 0.13", tone(0.13), -0.5, 0.04, likely},
		{"black cloth 0.04", tone(0.04), -2.2, 0.04, likely},
		{"black cloth 0.03", tone(0.03), -2.58, 0.006, likely},
		{"green grass, from 0.08", tone(0.08), -1.2, 0.04, likely},
		{"green grass, to 0.15", tone(0.15), -0.3, 0.04, likely},
		{"a stop of light is a stop of tone", float64(c.ToneOf(0.18, 2*c.Key())), 1, 1e-12, byHand},
		{"opal globe, 2430 cd/m² against 640 lx", float64(OverGrey(2430, 640)), 6.05, 0.005, byHand},
		{"sky of 2400 cd/m² in the window of a room at 640 lx", float64(OverGrey(2400, 640)), 6.03, 0.005, byHand},
	})
	// That difference holds for any camera: day for dusk needs a key of 2^(S−x) times the ambient for a sky at +x.
	ambient, sky := unit.Lux(640), unit.Nit(2400)
	times := (OverGrey(sky, ambient) - 1).Factor()
	check(t, []worked{
		{"key over ambient for a sky at +1", times, 32, 0.8, byHand},
		{"the sky, exposed for 32 times the ambient", float64(OverGrey(sky, 32*ambient)), 1.03, 0.005, byHand},
	})
}

func TestCheck(t *testing.T) {
	good := turned(800, 24, 180, 4)
	with := func(change func(*Camera)) Camera {
		c := good
		change(&c)
		return c
	}
	rows := []struct {
		name   string
		camera Camera
		want   string // path and text of each fault
	}{
		{"a usual camera", good, ""},
		{"an open shutter", turned(800, 24, 360, 4), ""},
		{"a whole frame as a time", timed(800, 1./24, 4), ""},
		{"nothing at all", Camera{}, "ei is missing; fps is missing; shutter is missing; stop is missing"},
		{"a shutter longer than a frame", timed(800, 1./20, 4), "shutter is open for 1/20 s, longer than a frame at 24 fps"},
		{"a filter that gives light", with(func(c *Camera) { c.ND = -1 }), "nd is below 0"},
		{"a dome's constant", with(func(c *Camera) { c.Constant = 340 }), ""},
		{"no meter's constant", with(func(c *Camera) { c.Constant = 25 }), "constant is outside what meters use, 240 to 540 lx s"},
	}
	for _, row := range rows {
		var found []string
		list := row.camera.Check()
		for _, f := range list {
			found = append(found, f.Path+" "+f.Text)
		}
		if got := strings.Join(found, "; "); got != row.want {
			t.Errorf("%s: %q, want %q", row.name, got, row.want)
		}
		if len(list) == 1 && list[0].Path == "constant" && list[0].Kind != fault.Note {
			t.Errorf("%s: a constant of one's own stops the work", row.name)
		}
	}
}

func TestKeyOfAnIncompleteCameraPanics(t *testing.T) {
	for name, c := range map[string]Camera{"nothing": {}, "no stop": turned(800, 24, 180, 0), "no frame rate": turned(800, 0, 180, 4)} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: no panic", name)
				}
			}()
			c.Key()
		}()
	}
}

func TestStopForMakesTheLevelTheKey(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyCamera(t)
		level := unit.Lux(rapid.Float64Range(1e-3, 1e6).Draw(t, "level"))
		c.Stop = c.StopFor(level)
		if off := float64(c.OverKey(level)); math.Abs(off) > 1e-9 {
			t.Fatalf("%v stops away", off)
		}
	})
}

func anyCamera(t *rapid.T) Camera {
	return Camera{
		EI:       unit.EI(rapid.Float64Range(25, 25600).Draw(t, "ei")),
		FPS:      unit.FPS(rapid.Float64Range(1, 1000).Draw(t, "fps")),
		Shutter:  unit.Shutter{Angle: unit.Degree(rapid.Float64Range(1, 360).Draw(t, "angle"))},
		Stop:     unit.TStop(rapid.Float64Range(0.7, 64).Draw(t, "stop")),
		ND:       unit.Stop(rapid.Float64Range(0, 10).Draw(t, "nd")),
		Constant: unit.LuxSecond(rapid.Float64Range(240, 540).Draw(t, "constant")),
	}
}
