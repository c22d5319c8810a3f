package exposure

import (
	"math"
	"testing"

	"gloam/internal/unit"
)

func TestMeterConstants(t *testing.T) {
	const source = "πK/C, by hand"
	check(t, []worked{
		{"K 12.5 and C 250", float64(CalibratedReflectance(UsualReflectedConstant, UsualConstant)), 0.1571, 5e-5, source},
		{"K 14 and C 250", float64(CalibratedReflectance(14, UsualConstant)), 0.1759, 5e-5, source},
		{"K 12.5 and a dome of C 330", float64(CalibratedReflectance(12.5, 330)), 0.12, 0.002, "web page on calibrated reflectance: about 12 %"},
		{"grey card over that of K 12.5, stops", float64(unit.Stops(0.18 / float64(CalibratedReflectance(12.5, 250)))), 0.2, 0.005, byHand},
		{"K 14 over K 12.5, stops", float64(unit.Stops(14 / 12.5)), 0.16, 0.004, byHand},
		{"a flat receptor's range of C, stops", float64(unit.Stops(400. / 240)), 0.74, 0.005, "240 to 400, [ISO2720] from memory"},
	})
}

func TestExposureValue(t *testing.T) {
	const source = "2.5·2^EV lx and 0.125·2^EV cd/m² for C = 250, K = 12.5, by hand"
	rows := []worked{
		{"f/16, 1/125 s", float64(EV(16, 1./125)), 14.966, 1e-3, "log2(N²/t), by hand"},
		{"f/2.8 as written, 1/50 s", float64(EV(2.8, 1./50)), 8.615, 1e-3, "log2(N²/t), by hand"},
		{"4, 1/48 s", float64(EV(4, 1./48)), 9.585, 1e-3, "log2(N²/t), by hand"},
	}
	for _, row := range []struct {
		name         string
		ev           unit.Stop
		lux, candela float64
	}{{"EV 0", 0, 2.5, 0.125}, {"EV 7", 7, 320, 16}, {"EV 10", 10, 2560, 128}, {"EV 15", 15, 81920, 4096}} {
		rows = append(rows,
			worked{row.name + ", incident", float64(LevelOfEV(row.ev, UsualConstant)), row.lux, 1e-9, source},
			worked{row.name + ", reflected", float64(LuminanceOfEV(row.ev, UsualReflectedConstant)), row.candela, 1e-9, source})
	}
	check(t, rows)
	// The exposure value of a camera's key is that of its settings: the two equations agree.
	c := timed(100, 1./125, 16)
	if got := LevelOfEV(EV(16, 1./125), UsualConstant); math.Abs(float64(got/c.Key())-1) > 1e-12 {
		t.Errorf("EV gives %v, the camera asks for %v", got, c.Key())
	}
}

func TestReceptors(t *testing.T) {
	at := func(r Receptor, degrees unit.Degree) float64 { return r.Response(math.Cos(degrees.Radians())) }
	const cardioid = "(1 + cos)/2, by hand; the receptor of [ISO2720] from memory"
	const cosine = "the cosine law, by hand"
	check(t, []worked{
		{"dome at 0°", at(Dome, 0), 1, 1e-4, cardioid},
		{"dome at 30°", at(Dome, 30), 0.9330, 1e-4, cardioid},
		{"dome at 45°", at(Dome, 45), 0.8536, 1e-4, cardioid},
		{"dome at 60°", at(Dome, 60), 0.75, 1e-4, cardioid},
		{"dome at 90°", at(Dome, 90), 0.5, 1e-4, cardioid},
		{"dome at 120°", at(Dome, 120), 0.25, 1e-4, cardioid},
		{"dome at 180°", at(Dome, 180), 0, 1e-4, cardioid},
		{"disc at 120°", at(Flat, 120), 0, 0, cosine},
		{"1000 lx on a disc at 30°", 1000 * at(Flat, 30), 866.03, 0.01, cosine},
		{"1000 lx on a disc at 60°", 1000 * at(Flat, 60), 500, 0.01, cosine},
		{"1000 lx on a disc at 75°", 1000 * at(Flat, 75), 258.82, 0.01, cosine},
		{"dome at 60°, stops", float64(unit.Stops(at(Dome, 60))), -0.42, 0.006, byHand},
		{"disc at 60°, stops", float64(unit.Stops(at(Flat, 60))), -1, 1e-9, byHand},
		{"key 1000 lx at 45° and fill 250 lx in front, dome", 1000*at(Dome, 45) + 250*at(Dome, 0), 1103.6, 0.1, byHand},
		{"the same, disc", 1000*at(Flat, 45) + 250*at(Flat, 0), 957.1, 0.1, byHand},
	})
}

func TestSensitivity(t *testing.T) {
	check(t, []worked{
		{"saturation at S 100", float64(SaturationExposure(100)), 0.78, 1e-12, isoMemory},
		{"standard output at S 100", float64(OutputExposure(100)), 0.10, 1e-12, isoMemory},
		{"behind the lens, 4096 cd/m², f/16, 1/125 s", float64(FocalPlaneExposure(4096, 1./125, 16)), 0.08320, 1e-5, isoMemory},
	})
}
