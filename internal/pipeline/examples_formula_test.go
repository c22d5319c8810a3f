package pipeline

import (
	"math"
	"testing"

	"gloam/internal/exposure"
	"gloam/internal/gear"
	"gloam/internal/geometry"
	"gloam/internal/photometry"
	"gloam/internal/unit"
)

// sum is a number of the examples' sums by hand that is a formula, to the digits it was worked to.
type sum struct {
	name      string
	got, want float64
	tolerance float64 // half the last digit, unless the sum rounds on the way
}

func TestSumsByHand(t *testing.T) {
	for scenario, rows := range map[string][]sum{
		"S1": ferrySums(t), "S2": luthierSums(t), "S3": chessSums(t), "S4": archiveSums(t), "S5": barnSums(t),
		"S6": officeSums(t), "S7": snowSums(t),
	} {
		seen := map[string]bool{}
		for _, row := range rows {
			if seen[row.name] {
				t.Errorf("%s %s: named twice", scenario, row.name)
			}
			seen[row.name] = true
			if !(math.Abs(row.got-row.want) <= row.tolerance) {
				t.Errorf("%s %s: %v, by hand %v ± %v", scenario, row.name, row.got, row.want, row.tolerance)
			}
		}
	}
}

// working returns a camera with a stop as engraved.
func working(t *testing.T, stop string, fps unit.FPS, angle unit.Degree) exposure.Camera {
	t.Helper()
	c := exposure.Camera{EI: 800, FPS: fps, Shutter: unit.Shutter{Angle: angle}}
	if err := c.Stop.Parse(stop); err != nil {
		t.Fatal(err)
	}
	return c
}

// intensity is what a kit lamp sends at an angle off its axis at a colour.
func intensity(t *testing.T, kit string, off unit.Degree, kelvin unit.Kelvin) unit.Candela {
	t.Helper()
	lamp, ok := gear.BuiltIn().Lamp(kit)
	if !ok {
		t.Fatal("no lamp", kit)
	}
	output, err := lamp.Output(kelvin)
	if err != nil {
		t.Fatal(err)
	}
	beam, _, err := lamp.Beam(nil)
	if err != nil {
		t.Fatal(err)
	}
	return unit.Candela(output * beam.At(photometry.Direction(0, off)))
}

func fc(lux unit.Lux) float64 { return float64(lux.FootCandles()) }

func stops(a, b float64) float64 { return float64(unit.Stops(a / b)) }

func degrees(radians float64) unit.Degree { return unit.Degree(radians * 180 / math.Pi) }

func ferrySums(t *testing.T) []sum {
	spot := intensity(t, "B12-FS", 0, 3200)
	lamp := func(d unit.Metre) unit.Lux { return exposure.Illuminance(spot, d, 0) }
	swing := func(ambient unit.Lux) float64 { return stops(float64(lamp(19)+ambient), float64(lamp(29)+ambient)) }
	// 5 m aside at 24 m, the face kept parallel to where it was in the middle.
	aside, slant := degrees(math.Atan2(5, 24)), unit.Metre(math.Hypot(5, 24))
	edge := func(kit string) float64 {
		return stops(float64(exposure.Illuminance(intensity(t, kit, aside, 3200), slant, aside)),
			float64(exposure.Illuminance(intensity(t, kit, 0, 3200), 24, 0)))
	}
	camera := working(t, "T4", 25, 180)
	open, shut := camera.NDSplits(1653), camera.NDSplits(1102)
	return []sum{
		{"1 intensity", float64(spot), 476_000, 500},
		{"1 near", float64(lamp(19)), 1319, 0.5}, {"1 near, fc", fc(lamp(19)), 122, 0.55},
		{"1 middle", float64(lamp(24)), 826, 0.5}, {"1 middle, fc", fc(lamp(24)), 76.8, 0.05},
		{"1 far", float64(lamp(29)), 566, 0.5}, {"1 far, fc", fc(lamp(29)), 52.6, 0.05},
		{"1 swing", float64(exposure.FallOff(19, 29)), 1.22, 0.005},
		{"2 one stop", float64(exposure.LampOver(826, 1)), 826, 0.5},
		{"2 two stops", float64(exposure.LampOver(275, 2)), 826, 1.5},
		{"2 ratio at +2", exposure.Ratio(826, 275), 4, 0.01},
		{"3 swing, opening", swing(826), 0.62, 0.005}, {"3 swing, closing", swing(275), 0.92, 0.005},
		{"6 key", float64(camera.Key()), 250, 0.5}, {"6 key, fc", fc(camera.Key()), 23.2, 0.05},
		{"6 over key, opening", float64(camera.OverKey(1653)), 2.72, 0.006},
		{"6 over key, closing", float64(camera.OverKey(1102)), 2.14, 0.005},
		{"6 ND, opening", float64(open[0].ND), 0.6, 1e-9}, {"6 iris, opening", float64(open[0].Rest), 0.72, 0.006},
		{"6 next ND, opening", float64(open[1].ND), 0.9, 1e-9}, {"6 open, opening", float64(open[1].Rest), -0.28, 0.006},
		{"6 ND, closing", float64(shut[0].ND), 0.6, 1e-9}, {"6 iris, closing", float64(shut[0].Rest), 0.14, 0.005},
		{"8 beam, near", float64(exposure.BeamWidth(12, 19)), 3.99, 0.005},
		{"8 beam, middle", float64(exposure.BeamWidth(12, 24)), 5.05, 0.005},
		{"8 beam, far", float64(exposure.BeamWidth(12, 29)), 6.10, 0.005},
		{"9 off the axis", float64(aside), 11.8, 0.05}, {"9 spot", edge("B12-FS"), -3.9, 0.05},
		{"9 mid, centre", float64(exposure.Illuminance(intensity(t, "B12-FM", 0, 3200), 24, 0)), 295, 0.5},
		{"9 mid", edge("B12-FM"), -1.05, 0.006},
		{"9 flood, centre", float64(exposure.Illuminance(intensity(t, "B12-FF", 0, 3200), 24, 0)), 111, 0.5},
		{"9 flood", edge("B12-FF"), -0.44, 0.005},
		{"9 panned", -float64(exposure.FallOff(24, slant)), -0.06, 0.005},
	}
}

func luthierSums(t *testing.T) []sum {
	camera := working(t, "T2.8", 24, 180)
	split := camera.NDSplits(640)
	frame := float64(photometry.ElementRectangle(1.2, 1.2, 1.5))
	card := float64(photometry.ElementRectangle(1, 1, 2.2))
	globe := 470 / (4 * math.Pi * math.Pi * 0.07 * 0.07) // cd/m²
	grey := float64(exposure.Luminance(exposure.MidGrey, 640))
	return []sum{
		{"1 sky over grey", float64(exposure.OverGrey(2400, 640)), 6.03, 0.005},
		{"1 over 32 times the ambient", float64(exposure.OverGrey(2400, 32*640)), 1.03, 0.005},
		{"2 intensity", float64(intensity(t, "B12-D60", 0, 2700)), 37_000, 50},
		{"2 form factor", frame, 0.168, 0.0005}, {"2 evenly lit", 0.22 * 18_200 * frame, 673, 1},
		{"3 T-stop", float64(camera.StopFor(640)), 6.5, 0.05}, {"3 key", float64(camera.Key()), 120, 0.5},
		{"3 take off", float64(camera.NDNeeded(640)), 2.41, 0.006},
		{"3 ND", float64(split[0].ND), 0.6, 1e-9}, {"3 iris", float64(split[0].Rest), 0.41, 0.006},
		{"3 next ND", float64(split[1].ND), 0.9, 1e-9}, {"3 open", float64(split[1].Rest), -0.59, 0.006},
		{"3 ND 1.8: iris", float64(camera.NDSplits(320)[0].Rest), 0.41, 0.006},
		{"4 shadow side", 640 * unit.Stop(-3).Factor(), 80, 1e-9},
		{"4 form factor", card, 0.0615, 0.00005}, {"4 card", 0.80 * 3423 * card, 168, 0.6},
		{"4 fill dim", 60 / (0.80 * 3423 * card), 0.36, 0.005},
		{"5 globe", globe, 2430, 5}, {"5 grey", grey, 36.7, 0.05},
		{"5 globe over grey", float64(exposure.OverGrey(unit.Nit(globe), 640)), 6.05, 0.005},
		{"5 dim", (4 - exposure.OverGrey(unit.Nit(globe), 640)).Factor(), 0.24, 0.005},
		{"5 on the face", float64(exposure.Illuminance(37.4*0.2415, 0.9, 0)), 11, 0.5},
	}
}

func chessSums(t *testing.T) []sum {
	camera := working(t, "T4", 25, 180)
	white := float64(exposure.Illuminance(intensity(t, "B12-D26", 0, 5600), 5, 0)) * math.Exp2(-0.75)
	rows := []sum{
		{"3 half white", white, 5946, 1}, {"3 half white, fc", fc(unit.Lux(white)), 552, 0.6}, {"3 two", 2 * white, 11_892, 1},
		{"5 09:30 ratio", exposure.Ratio(10_500, 3100), 4.4, 0.05}, {"5 12:30 ratio", exposure.Ratio(4000, 9600), 1.42, 0.005},
	}
	lamp, _ := gear.BuiltIn().Lamp("B12-D26")
	for _, hour := range []struct {
		name           string
		ambient        unit.Lux
		level          float64
		kelvin         unit.Kelvin
		against        float64
		over, nd, iris float64
	}{
		{"09:30", 3100, 0.27, 6110, -1.13, 4.63, 1.2, 0.63}, {"11:00", 6800, 0.57, 5600, 0, 5.77, 1.5, 0.77},
		{"12:30", 9600, 0.81, 5450, 0.50, 6.26, 1.8, 0.26}, {"14:00", 6100, 0.52, 5670, -0.16, 5.61, 1.5, 0.61},
		{"15:30", 2900, 0.26, 6400, -1.23, 4.54, 1.2, 0.54}, {"pickup", 5200, 0.45, 5890, -0.39, 5.38, 1.5, 0.38},
	} {
		output, err := lamp.Output(hour.kelvin)
		if err != nil {
			t.Fatal(err)
		}
		total := 2 * hour.ambient
		split := camera.NDSplits(total)[0]
		rows = append(rows,
			sum{"4 level " + hour.name, float64(hour.ambient) / (2 * white * output), hour.level, 0.01},
			sum{"4 against 11:00 " + hour.name, float64(camera.OverKey(total) - camera.OverKey(13_600)), hour.against, 0.006},
			sum{"4 over key " + hour.name, float64(camera.OverKey(total)), hour.over, 0.006},
			sum{"4 ND " + hour.name, float64(split.ND), hour.nd, 1e-9},
			sum{"4 iris " + hour.name, float64(split.Rest), hour.iris, 0.006})
	}
	held, _ := lamp.Output(6110)
	return append(rows, sum{"5 09:30 level", 10_500 / (2 * white * held), 0.91, 0.01}, sum{"5 12:30 level", 4000 / (2 * white), 0.34, 0.005})
}

func archiveSums(t *testing.T) []sum {
	direct := exposure.Illuminance(intensity(t, "B12-D26", 0, 5600), 5.1, 0)
	fill := exposure.Illuminance(intensity(t, "P20", 0, 3200), 4, 0)
	blur := func(opening unit.FNumber) float64 {
		b, err := exposure.Lens{Focal: 0.075, Opening: opening}.Blur(2.4, 0.45)
		if err != nil {
			t.Fatal(err)
		}
		return float64(b)
	}
	camera := working(t, "T2.8", 24, 180)
	return []sum{
		{"2 form factor", float64(photometry.ElementRectangle(2.4, 2.4, 2.5)), 0.225, 0.0005},
		{"2 evenly lit", 0.22 * 2970 * float64(photometry.ElementRectangle(2.4, 2.4, 2.5)), 147, 0.6},
		{"2 book, fc", fc(156), 14.5, 0.05},
		{"3 direct", float64(direct), 9600, 50}, {"3 loss", stops(156, float64(direct)), -5.9, 0.05},
		{"4 key", float64(camera.Key()), 120, 0.5}, {"4 key, fc", fc(camera.Key()), 11.1, 0.06},
		{"4 fill", float64(fill), 212, 0.6}, {"4 fill dim", 30 / float64(fill), 0.14, 0.005},
		{"5 point source", -float64(exposure.FallOff(2.5, 4.5)), -1.70, 0.005},
		{"8 blur", blur(2), 0.00524, 0.000005}, {"8 share of picture", blur(2) / 0.0249, 0.21, 0.005},
		{"8 blur at 5.6", blur(unit.FNumber(math.Sqrt(32))), 0.00185, 0.000005},
		{"8 share at 5.6", blur(unit.FNumber(math.Sqrt(32))) / 0.0249, 0.07, 0.005},
	}
}

func barnSums(t *testing.T) []sum {
	const tilt = unit.Degree(30)
	sin, cos := math.Sincos(tilt.Radians())
	height := 3 + 9*math.Tan(tilt.Radians())
	toWindow, inside := unit.Metre(9/cos), unit.Metre(3/sin)
	onAxis := exposure.Illuminance(intensity(t, "B12-FS", 0, 5600), toWindow+inside, 0)
	axis := geometry.Vector{X: cos, Z: -sin}
	corner := func(z float64) unit.Degree { // off the axis
		return degrees(math.Acos(geometry.Vector{X: 9, Y: 0.45, Z: z - height}.Unit().Dot(axis)))
	}
	loss := func(z float64) float64 {
		return stops(float64(intensity(t, "B12-FS", corner(z), 5600)), float64(intensity(t, "B12-FS", 0, 5600)))
	}
	camera := working(t, "T2.8", 24, 180)
	wanted := float64(camera.Key()) * math.Exp2(1.5)
	return []sum{
		{"2 square to the beam", float64(onAxis), 2084, 1},
		{"3 wanted", wanted, 339, 0.6}, {"3 dim before the haze", wanted / (float64(onAxis) * cos), 0.188, 0.0005},
		{"4 beam", float64(exposure.BeamWidth(12, toWindow)), 2.18, 0.005},
		{"4 top corners", float64(corner(3.6)), 3.9, 0.05}, {"4 bottom corners", float64(corner(2.4)), 3.7, 0.05},
		{"4 top corners, stops", loss(3.6), -0.42, 0.006}, {"4 bottom corners, stops", loss(2.4), -0.38, 0.006},
		{"5 growth", exposure.PatchGrowth(toWindow, inside), 1.58, 0.005},
		{"6 growth at 26.5 m", exposure.PatchGrowth(26.5, 6), 1.23, 0.005}, {"6 growth at 30 m", exposure.PatchGrowth(30, 6), 1.20, 0.005},
	}
}

func officeSums(t *testing.T) []sum {
	camera := working(t, "T2.8", 24, 172.8)
	split := camera.NDSplits(849)
	frame := float64(photometry.ElementRectangle(2.0, 1.2, 3.0))
	kit, _ := gear.BuiltIn().Lamp("B12-D60")
	output, err := kit.Output(3700)
	if err != nil {
		t.Fatal(err)
	}
	full := 482 * output
	half := unit.Second(1.0 / 48)
	angle := math.NaN()
	for _, a := range exposure.SafeAngles(24, 50) {
		if a > 90 && a < 180 {
			angle = float64(a)
		}
	}
	steady := 0.0
	if exposure.SafeAtAnyAngle(24, 60) {
		steady = 1
	}
	return []sum{
		{"1 angle", angle, 172.8, 0.05}, {"1 exposure time", 1 / float64(camera.ExposureTime()), 50, 1e-6},
		{"1 ripple at 180", float64(exposure.Ripple(0.35, 50, half)), 0.04, 0.005},
		{"1 beat", float64(exposure.Beat(24, 50)), 4, 1e-9}, {"1 any angle at 60 Hz", steady, 1, 0},
		{"2 key", float64(camera.Key()), 125, 0.5}, {"2 key, fc", fc(camera.Key()), 11.6, 0.05},
		{"2 over key", float64(camera.OverKey(849)), 2.76, 0.006},
		{"2 ND", float64(split[0].ND), 0.6, 1e-9}, {"2 iris", float64(split[0].Rest), 0.76, 0.006},
		{"2 next ND", float64(split[1].ND), 0.9, 1e-9}, {"2 open", float64(split[1].Rest), -0.24, 0.006},
		{"5 form factor", frame, 0.0772, 0.00005}, {"5 evenly lit", 15_100 * 0.40 * frame, 466, 0.6},
		{"5 output at 3700 K", output, 0.933, 0.0006}, {"5 full", full, 450, 0.6},
		{"5 14:00 dim", 185 / full, 0.41, 0.005}, {"5 16:00 dim", 426 / full, 0.95, 0.005},
		{"5 16:00 reserve", stops(full, 426), 0.08, 0.005},
	}
}

func snowSums(t *testing.T) []sum {
	const foot = 0.3048
	bare := working(t, "T4", 24, 180)
	flat := unit.Lux(95_000*math.Sin(unit.Degree(38.5).Radians()) + 13_000)
	face := 0.5*0.85*flat + 6500
	key := face * math.Sqrt2
	split := bare.NDSplits(key)
	camera := bare
	camera.ND = bare.NDNeeded(key)
	snow := func(level unit.Lux) float64 { return float64(camera.ToneOf(0.85, level)) }
	lamp := exposure.Illuminance(intensity(t, "B12-D26", 0, 5600), 10*foot, 0)
	adds := func(level unit.Lux) float64 { return float64(camera.OverKey(face+level) - camera.OverKey(face)) }
	board := float64(photometry.ElementRectangle(8*foot, 8*foot, 8*foot))
	black := float64(photometry.ElementRectangle(8*foot, 8*foot, 4*foot))
	field := exposure.Lens{Focal: 0.035, Opening: 4}.Field(0.0131)
	return []sum{
		{"1 flat, fc", fc(unit.Lux(flat)), 6700, 5}, {"2 face, fc", fc(unit.Lux(face)), 3450, 5},
		{"3 key of T4", float64(bare.Key()), 240, 0.5}, {"3 key, fc", fc(bare.Key()), 22.3, 0.05},
		{"3 take off", float64(bare.NDNeeded(key)), 7.77, 0.006},
		{"3 ND", float64(split[1].ND), 2.4, 1e-9}, {"3 iris", float64(split[1].Stop), 3.7, 0.05},
		{"3 weaker ND", float64(split[0].ND), 2.1, 1e-9}, {"3 its iris", float64(split[0].Stop), 5.2, 0.06},
		{"4 flat snow", snow(flat), 2.70, 0.006}, {"4 slope", snow(95_000 + 13_000), 3.28, 0.005},
		{"4 rim", float64(camera.OverKey(95_000 + face)), 1.33, 0.005},
		{"5 lamp", float64(lamp), 26_900, 50}, {"5 lamp adds", adds(lamp), 0.79, 0.006},
		{"5 half white", float64(lamp) * math.Exp2(-0.75), 16_000, 50}, {"5 half white adds", adds(16_000), 0.52, 0.005},
		{"5 form factor", board, 0.2395, 0.00005}, {"5 board", 0.85 * 95_000 * math.Sqrt2 / 2 * board, 13_700, 50},
		{"5 board adds", adds(13_700), 0.45, 0.005}, {"5 to the key", float64(key - face), 15_400, 50},
		{"6 form factor", black, 0.554, 0.0005}, {"6 black takes", stops(1-black, 1), -1.17, 0.006},
		{"7 field", float64(field), 21.2, 0.05}, {"7 top edge", float64(field) / 2, 10.6, 0.05},
	}
}
