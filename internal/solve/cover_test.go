package solve

import (
	"math"
	"testing"

	"gloam/internal/exposure"
	"gloam/internal/photometry"
	"gloam/internal/unit"
)

// zoom is an invented lamp: 12° 560 kcd, 24° 200 kcd, 40° 75 kcd.
func zoom(t *testing.T) *photometry.Family {
	f, err := photometry.NewFamily([]photometry.Setting{{Beam: 12, Peak: 560000}, {Beam: 24, Peak: 200000}, {Beam: 40, Peak: 75000}}, 60000)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// The edge of 10 m at 24 m is 11.77° off: (11.77/6)² + 0.09 = 3.9 stops under a beam of 12°, 1.05 under 24°, 0.44 under
// 40°.
func TestEdgeLoss(t *testing.T) {
	for beam, want := range map[unit.Degree]float64{12: 3.94, 24: 1.05, 40: 0.44} {
		within(t, beam.String(), float64(EdgeLoss(photometry.Bell(1, beam), 10, 24)), want, 0.005)
	}
	// Of a small matt source the law of four cosines: cos⁴ 45° is a quarter.
	within(t, "matt", float64(EdgeLoss(photometry.Cosine(1), 2, 1)), 2, 1e-12)
}

// levelOf is what a zoom gives in the centre.
func levelOf(t *testing.T, f *photometry.Family, distance unit.Metre) func(unit.Degree) unit.Lux {
	return func(beam unit.Degree) unit.Lux {
		d, err := f.At(beam)
		if err != nil {
			t.Fatal(err)
		}
		return exposure.Illuminance(d.Peak(), distance, 0)
	}
}

func TestCover(t *testing.T) {
	at := levelOf(t, zoom(t), 24)
	c, ok := Cover(12, 40, at, 10, 24, 1.053)
	within(t, "beam", float64(c.Beam), 24, 0.02)
	within(t, "centre at 5600 K", float64(c.Centre), 200000/(24*24.), 1)
	within(t, "edge", float64(c.Edge), 1.053, 1e-9)
	if !ok {
		t.Error("not covered")
	}
	if c, ok = Cover(12, 40, at, 1, 24, 1); !ok || c.Beam != 12 {
		t.Errorf("a narrow width wants full spot: %+v", c)
	}
	if c, ok = Cover(12, 40, at, 10, 24, 0.3); ok || c.Beam != 40 {
		t.Errorf("flood that falls off too far: %+v", c)
	}
	if _, ok = Cover(12, 40, levelOf(t, zoom(t), 5), 30, 5, 0.3); ok {
		t.Error("an edge that incidence alone makes too dark is covered")
	}
	// A lamp that is brightest at flood is best there.
	if c, _ = Cover(12, 40, func(b unit.Degree) unit.Lux { return unit.Lux(b) }, 1, 24, 1); c.Beam != 40 {
		t.Errorf("brightest at flood: %+v", c)
	}
}

// From where it covers, the edge is just within.
func TestCoverFrom(t *testing.T) {
	for _, beam := range []unit.Degree{4, 12, 40, 100} {
		bell := photometry.Bell(1, beam)
		within(t, beam.String(), float64(EdgeLoss(bell, 3, CoverFrom(bell, 3, 0.5))), 0.5, 1e-6)
	}
	within(t, "matt, a quarter", float64(CoverFrom(photometry.Cosine(1), 2, 2)), 1, 1e-9)
}

// A spot of 476 kcd over 826 lx of ambient swings log2((1319+826)/(566+826)) = 0.6234 stop between 19 and 29 m.
func TestThrow(t *testing.T) {
	near, far := 476000/(19*19.)+826.4, 476000/(29*29.)+826.4
	swing := unit.Stop(math.Log2(near / far))
	within(t, "swing", float64(swing), 0.62, 0.005)
	within(t, "distance", float64(Throw(476000, 826.4, 10, swing)), 19, 1e-6)
	// Without ambient 10 m within a stop ask for 10/(√2 − 1) = 24.14 m.
	within(t, "alone", float64(Throw(476000, 0, 10, 1)), 24.142, 0.001)
}

// The book light at 132 lx and 2.5 m reaches 0.6 of full output, 90/0.6 lx, at 2.3 m. A spot of 560 kcd through haze and
// at 30° down gives 339 lx at 32.5 m.
func TestFarthest(t *testing.T) {
	d, ok := Farthest(bookAt, 90/0.6, 1)
	within(t, "book light", float64(d), 2.3, 0.005)
	if !ok {
		t.Error("not reached")
	}
	spot := func(d unit.Metre) unit.Lux {
		return unit.Lux(560000 / float64(d*d) * math.Exp(-0.3) * math.Cos(math.Pi/6))
	}
	d, _ = Farthest(spot, 120*unit.Lux(math.Exp2(1.5)), 1)
	within(t, "spot", float64(d), 26.5+6, 0.05)
	if _, ok := Farthest(spot, 1e9, 1); ok {
		t.Error("more light than there is reaches")
	}
	if d, ok := Farthest(func(unit.Metre) unit.Lux { return 5 }, 1, 1); !ok || d != farthest {
		t.Errorf("a level that does not fall: %v", d)
	}
}

// 1.6 + 24·tan 4° = 3.28 m; 3.0 + 9·tan 30° = 8.20 m.
func TestSunHeight(t *testing.T) {
	within(t, "low sun", float64(SunHeight(1.6, 24, 4)), 3.28, 0.005)
	within(t, "morning", float64(SunHeight(3, 9, 30)), 8.20, 0.005)
	within(t, "shadow as long as the thing", float64(ShadowAltitude(1.8, 1.8)), 45, 1e-12)
	within(t, "and back", float64(SunHeight(0, 24, ShadowAltitude(1.7, 5))), 24*1.7/5, 1e-9)
}
