package exposure

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"gloam/internal/unit"
)

func TestNDNeeded(t *testing.T) {
	t4 := turned(800, 24, 180, 4) // key 240 lx
	filtered := t4
	filtered.ND = 2
	check(t, []worked{
		{"46308 lx at T4, EI 800, 1/48 s", float64(t4.NDNeeded(46308)), 7.6, 0.01, byHand},
		{"whatever filter is in", float64(filtered.NDNeeded(46308)), 7.6, 0.01, byHand},
		{"the filter counts for the key", float64(filtered.Key()), 960, 1e-9, byHand},
		{"face on snow, 52550 lx", float64(t4.NDNeeded(52550)), 7.77, 0.005, byHand},
	})
}

func TestNDSplits(t *testing.T) {
	key250, key240, key120 := turned(800, 25, 180, 4), turned(800, 24, 180, 4), turned(800, 24, 180, nominal(t, "T2.8"))
	over := func(c Camera, stops unit.Stop) unit.Lux { return c.Key() * unit.Lux(stops.Factor()) }
	rows := []struct {
		name   string
		camera Camera
		level  unit.Lux
		want   []NDSplit // EI and shutter are checked by property below
	}{
		{"+2.72 at T4", key250, over(key250, 2.72), []NDSplit{{ND: 0.6, Rest: 0.72, Stop: 5.134}, {ND: 0.9, Rest: -0.28, Stop: 3.630}}},
		{"face on snow at T4", key240, 52550, []NDSplit{{ND: 2.1, Rest: 0.7745, Stop: 5.232}, {ND: 2.4, Rest: -0.2255, Stop: 3.699}}},
		{"bench at T2.8", key120, 640, []NDSplit{{ND: 0.6, Rest: 0.415, Stop: 3.266}, {ND: 0.9, Rest: -0.585, Stop: 2.309}}},
		{"a filter fits", key240, 960, []NDSplit{{ND: 0.6, Rest: 0, Stop: 4}}},
		{"half a stop over", key240, over(key240, 0.5), []NDSplit{{ND: 0, Rest: 0.5, Stop: 4.757}, {ND: 0.3, Rest: -0.5, Stop: 3.364}}},
		{"the key itself", key240, 240, []NDSplit{{ND: 0, Rest: 0, Stop: 4}}},
		{"too little light", key240, 60, []NDSplit{{ND: 0, Rest: -2, Stop: 2}}},
	}
	for _, row := range rows {
		got := row.camera.NDSplits(row.level)
		if len(got) != len(row.want) {
			t.Errorf("%s: %d splits, want %d", row.name, len(got), len(row.want))
			continue
		}
		for i, want := range row.want {
			if got[i].ND != want.ND || math.Abs(float64(got[i].Rest-want.Rest)) > 1e-3 || math.Abs(float64(got[i].Stop-want.Stop)) > 2e-3 {
				t.Errorf("%s: split %d is %v, rest %v, %v; want %v, rest %v, %v", row.name, i,
					float64(got[i].ND), float64(got[i].Rest), float64(got[i].Stop), float64(want.ND), float64(want.Rest), float64(want.Stop))
			}
		}
	}
}

// Each way of a split makes the level the key, or is not offered.
func TestEachWayOfASplitMeetsTheKey(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyCamera(t)
		level := unit.Lux(rapid.Float64Range(1, 1e6).Draw(t, "level"))
		splits := c.NDSplits(level)
		for _, s := range splits {
			filtered := c
			filtered.ND = s.ND.NominalStops()
			iris, speed, shutter := filtered, filtered, filtered
			iris.Stop, speed.EI, shutter.Shutter = s.Stop, s.EI, s.Shutter
			ways := []Camera{iris, speed, shutter}
			if s.Shutter == (unit.Shutter{}) {
				ways = ways[:2]
				if longest := c.ExposureTime() / unit.Second(s.Rest.Factor()); float64(longest)*float64(c.FPS) <= 1 {
					t.Fatalf("a shutter of %v was not offered", longest)
				}
			}
			for i, way := range ways {
				if off := float64(way.OverKey(level)); math.Abs(off) > 1e-9 {
					t.Fatalf("way %d misses the key by %v stops", i, off)
				}
				if faults := way.Check(); len(faults) > 0 {
					t.Fatalf("way %d: %v", i, faults)
				}
			}
		}
		if len(splits) == 2 && (splits[0].Rest < 0 || splits[1].Rest > 0 || math.Abs(float64(splits[0].Rest-splits[1].Rest)-1) > 1e-9) {
			t.Fatalf("splits do not lie one stop apart about the key: %v, %v", splits[0].Rest, splits[1].Rest)
		}
	})
}
