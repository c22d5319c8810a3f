package exposure

import (
	"testing"

	"gloam/internal/unit"
)

func TestDistance(t *testing.T) {
	const inverse = "E = I/d², by hand"
	at := func(to unit.Metre) float64 { return float64(InverseSquare(1000, 2, to)) }
	check(t, []worked{
		{"250 kcd at 5 m", float64(Illuminance(250_000, 5, 0)), 10_000, 1e-9, inverse},
		{"the same in fc", float64(Illuminance(250_000, 5, 0).FootCandles()), 929, 0.5, inverse},
		{"the same at 60° of incidence", float64(Illuminance(250_000, 5, 60)), 5000, 1e-9, "cosine law, by hand"},
		{"from behind", float64(Illuminance(250_000, 5, 120)), 0, 0, byDefinition},
		{"1000 lx at 2 m, at 3 m", at(3), 444.44, 0.01, inverse},
		{"1000 lx at 2 m, at 4 m", at(4), 250, 1e-9, inverse},
		{"1000 lx at 2 m, at 5.6 m", at(5.6), 127.55, 0.01, inverse},
		{"2 m to 3 m, stops", float64(FallOff(2, 3)), 1.170, 1e-3, inverse},
		{"2 m to 4 m, stops", float64(FallOff(2, 4)), 2, 1e-12, inverse},
		{"2 m to 5.6 m, stops", float64(FallOff(2, 5.6)), 2.971, 1e-3, inverse},
		{"1.414 times the distance, stops", float64(FallOff(1, 1.414)), 1, 1e-3, inverse},
		{"1.189 times the distance, stops", float64(FallOff(1, 1.189)), 0.5, 1e-3, inverse},
		{"1.122 times the distance, stops", float64(FallOff(1, 1.122)), 1. / 3, 2e-3, inverse},
		{"a walk from 19 m to 29 m, stops", float64(FallOff(19, 29)), 1.22, 0.005, inverse},
		{"one metre of walk within half a stop", float64(WalkDistance(1, 0.5)), 5.3, 0.05, "w/(2^(s/2) − 1), by hand"},
		{"six metres of walk within half a stop", float64(WalkDistance(6, 0.5)), 31.7, 0.05, "w/(2^(s/2) − 1), by hand"},
		{"one metre of walk within a third", float64(WalkDistance(1, 1./3)), 8.2, 0.05, "w/(2^(s/2) − 1), by hand"},
		{"the walk's swing from there", float64(FallOff(WalkDistance(6, 0.5), WalkDistance(6, 0.5)+6)), 0.5, 1e-12, "the formula undone"},
	})
}

func TestBigSource(t *testing.T) {
	const source = "E = πL·r²/(r²+d²) against πL·r²/d², by hand; the 'five times' rule"
	check(t, []worked{
		{"one diameter from a disc", float64(DiscExcess(0.5, 1)), 0.32, 0.005, source},
		{"two diameters", float64(DiscExcess(0.5, 2)), 0.09, 0.005, source},
		{"three diameters", float64(DiscExcess(0.5, 3)), 0.04, 0.005, source},
		{"five diameters", float64(DiscExcess(0.5, 5)), 0.014, 0.0005, source},
	})
}

func TestBeamsAndShadows(t *testing.T) {
	wide := func(beam unit.Degree, distance unit.Metre) float64 { return float64(BeamWidth(beam, distance)) }
	const tangent = "2·d·tan(β/2), by hand"
	check(t, []worked{
		{"12° per metre", wide(12, 1), 0.21, 0.005, tangent},
		{"24° per metre", wide(24, 1), 0.43, 0.005, tangent},
		{"26° per metre", wide(26, 1), 0.46, 0.005, tangent},
		{"40° per metre", wide(40, 1), 0.73, 0.005, tangent},
		{"55° per metre", wide(55, 1), 1.04, 0.005, tangent},
		{"60° per metre", wide(60, 1), 1.15, 0.005, tangent},
		{"26° at 5 m", wide(26, 5), 2.31, 0.005, tangent},
		{"12° at 24 m", wide(12, 24), 5.05, 0.006, tangent},
		{"edge of the sun's shadow per metre, mm", 1000 * float64(FarShadowEdge(0.53, 1)), 9.3, 0.06, "2·tan(0.53°/2), by hand"},
		{"shadow edge, 0.3 m source, 1 m behind a hand at 4 m", float64(ShadowEdge(0.3, 4, 1)), 0.075, 1e-12, "similar triangles, by hand"},
		{"patch, lamp at 10.4 m, window to floor 6 m", PatchGrowth(10.4, 6), 1.58, 0.005, "(D + x)/D, by hand"},
		{"patch, lamp five times as far as the floor", PatchGrowth(5, 1), 1.2, 1e-12, "(D + x)/D, by hand"},
		{"patch, lamp at 30 m, window to floor 6 m", PatchGrowth(30, 6), 1.2, 1e-12, "(D + x)/D, by hand"},
	})
}

func TestReflectance(t *testing.T) {
	const matt = "ρ·E/π, by hand"
	check(t, []worked{
		{"grey card at 1000 lx", float64(Luminance(0.18, 1000)), 57.296, 0.01, matt},
		{"white card 0.90 at 1000 lx", float64(Luminance(0.90, 1000)), 286.48, 0.01, matt},
		{"pair of readings of the grey card", float64(Reflectance(57.296, 1000)), 0.18, 1e-5, "π·L/E, by hand"},
	})
}

func TestRatios(t *testing.T) {
	stops := func(key, fill unit.Lux) float64 { return float64(unit.Stops(Ratio(key, fill))) }
	const convention = "(key + fill) : fill, common practice, no source"
	check(t, []worked{
		{"key 800, fill 400", Ratio(800, 400), 3, 1e-12, convention},
		{"the same in stops", stops(800, 400), 1.585, 1e-3, convention},
		{"2:1", stops(1, 1), 1, 1e-12, convention},
		{"4:1", stops(3, 1), 2, 1e-12, convention},
		{"8:1", stops(7, 1), 3, 1e-12, convention},
		{"16:1", stops(15, 1), 4, 1e-12, convention},
		{"shadow of 8:1 under a key side of 640 lx", 640 / unit.Stop(3).Factor(), 80, 1e-9, byHand},
		{"lamp for 1 stop over the ambient", float64(LampOver(1, 1)), 1, 1e-12, "A·(2ⁿ − 1), by hand"},
		{"lamp for 1½ stops", float64(LampOver(1, 1.5)), 1.83, 0.005, "A·(2ⁿ − 1), by hand"},
		{"lamp for 2 stops", float64(LampOver(1, 2)), 3, 1e-12, "A·(2ⁿ − 1), by hand"},
		{"lamp for 3 stops", float64(LampOver(1, 3)), 7, 1e-12, "A·(2ⁿ − 1), by hand"},
		{"lamp for 2 stops over 1600 lx", float64(LampOver(1600, 2)), 4800, 1e-9, "A·(2ⁿ − 1), by hand"},
		{"equal lamp and ambient, stops", stops(640, 640), 1, 1e-12, byHand},
		{"black cloth over half the view of a side, stops", float64(unit.Stops(0.5)), -1, 0, "form factor 1/2, by hand"},
	})
}
