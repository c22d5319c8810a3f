package meter

import (
	"fmt"
	"math"
	"slices"
	"testing"
)

// 250,000 cd at 5 m are 10,000 lx = 929 fc (E = I/d²), and log2(10,000/120) stops over the key C·T²/(EI·t) of [ISO2720].
func TestOneLamp(t *testing.T) {
	b := lit(t, oneLamp+atPoint)
	p := b.point(t, "point")
	within(t, "lux", some(t, "lux", p.Lux), oneLevel, 1)
	within(t, "fc", float64(p.Lux.FootCandles()), 929, 0.1)
	within(t, "key", float64(b.levels.Key), key, 1e-9)
	within(t, "over key", some(t, "over key", p.OverKey), math.Log2(oneLevel/key), 1e-3)
	if p.Luminance != nil || p.Receptor != "flat" || b.levels.Setup != "plan" || b.levels.At != "" {
		t.Errorf("the point is %+v", p)
	}
	if len(p.By) != 1 || p.By[0].Source != "lamp" || *p.By[0].Direct != *p.By[0].Lux {
		t.Errorf("it is made of %+v", p.By)
	}
	within(t, "share", p.By[0].Share, 1, 1e-9)
	within(t, "standard error", float64(p.Stderr), 0, 0.002)
}

// A dome reads (1+cos α)/2 of light square-on, a disc cos α [ISO2720]: at 60° −0.42 and −1.00 stop.
func TestReceptors(t *testing.T) {
	b := lit(t, oneLamp+"points: {dome: {at: 0 0 1, faces: 60 deg, receptor: dome}, disc: {at: 0 0 1, faces: 60 deg}, away: {at: 0 0 1, faces: S}}\n")
	full := math.Log2(oneLevel / key)
	within(t, "dome", some(t, "dome", b.point(t, "dome").OverKey)-full, math.Log2(0.75), 1e-3)
	within(t, "disc", some(t, "disc", b.point(t, "disc").OverKey)-full, -1, 1e-3)
	dark := b.point(t, "away")
	if dark.OverKey != nil || dark.CCT != nil || dark.Duv != nil || dark.Mired != nil || dark.Interval != 0 || *dark.Lux != 0 {
		t.Errorf("a dark point is %+v", dark)
	}
}

// What the sources give adds up to the level, whatever they are, and the shares to one.
func TestPartsAddUp(t *testing.T) {
	b := put(t, 0.02, `set: {rooms: {shop: {size: 5 x 6 x 3 m, openings: {window: {wall: right, size: 2 x 1 m, gel: ND 0.6}}}}}
people: {maker: {at: 2 2, faces: N, key: left}}
lamps: {lamp: {kit: P20, at: 1 5 2, aim: maker, colour: 3200 K}, other: {kit: B3-D55, at: 4 5 2.5, aim: card, dim: 40 %}}
cloths: {card: {kind: white card, size: 1 x 1 m, at: 3 3 1.5, faces: maker}}
practicals: {globe: {kind: globe, diameter: 0.14 m, at: 3 2 1.5, flux: 470 lm}}
ambient: {sky: {reading: 60 lx, shape: everywhere, through: [window], colour: 7500 K}}
points: {wall: {at: 2 5.9 1.5, faces: S}, globe seen: {at: globe, receptor: spot}}
camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8, at: 4 1 1.5, aim: maker}
`)
	for _, p := range b.levels.Points {
		sum, direct, shares := 0.0, 0.0, 0.0
		for i, s := range p.By {
			if name := b.setup.Sources[i].Name; s.Source != name {
				t.Errorf("source %d is %q, in the plan %q", i, s.Source, name)
			}
			level, straight := (*float64)(s.Lux), (*float64)(s.Direct)
			if p.Receptor == "spot" {
				level, straight = (*float64)(s.Luminance), (*float64)(s.DirectLuminance)
			}
			sum, direct, shares = sum+*level, direct+*straight, shares+s.Share
			if *straight > *level+1e-9 || *level < 0 {
				t.Errorf("%s, %s: %g, of which %g straight", p.Name, s.Source, *level, *straight)
			}
		}
		total := (*float64)(p.Lux)
		if p.Receptor == "spot" {
			total = (*float64)(p.Luminance)
		}
		within(t, p.Name+", sum of its sources", sum, *total, 1e-9**total)
		within(t, p.Name+", sum of shares", shares, 1, 1e-9)
	}
}

// Equal lux of 2700 K and of daylight at 6500 K is about 3990 K and pinkish, Duv −0.005, as worked out apart from this
// program from the CIE's tables with the method of [Ohno2013]: X, Y, Z add up, kelvins do not.
func TestMixedLight(t *testing.T) {
	b := lit(t, "lamps: {lamp: {kit: spot, at: 0 5 1, aim: S, colour: 2700 K}}\nambient: {sky: {reading: 10000 lx, shape: everywhere, colour: 6500 K}}\n"+atPoint)
	p := b.point(t, "point")
	within(t, "CCT", some(t, "CCT", p.CCT), 3990, 75)
	within(t, "Duv", some(t, "Duv", p.Duv), -0.005, 0.001)
	within(t, "share of the lamp", p.By[0].Share, 0.5, 1e-3)
}

// Colour against the balance in mired: 10⁶/K of the light less that of the balance; above 0 is warm.
func TestFromBalance(t *testing.T) {
	for _, row := range []struct {
		name, colour, balance string
		want                  float64
	}{
		{"warm under daylight", "3200 K", "5600 K", 133.9},
		{"very warm under a high balance", "3600 K", "7600 K", 146.2},
		{"cool under tungsten", "5600 K", "3200 K", -133.9},
		{"neutral", "4300 K", "4300 K", 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := put(t, 0.01, "lamps: {lamp: {kit: spot, at: 0 5 1, aim: S, colour: "+row.colour+"}}\n"+atPoint+
				"camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8, balance: "+row.balance+"}\n")
			within(t, "mired from balance", some(t, "mired", b.point(t, "point").Mired), row.want, 0.5)
		})
	}
}

// Key and fill over fill: 640 lx on the key side and 80 lx in the shadow are 8:1, 3 stops.
func TestRatio(t *testing.T) {
	const people = "people: {maker: {at: 0 0, faces: N, key: left}}\nwalks: {away: {marks: [50 50, 60 50], who: maker}}\nambient: {fill: {reading: 80 lx, shape: everywhere}}\n"
	side := lit(t, people).setup.Scene.Receivers[1]
	at := side.Position.AddMul(10, side.Normal) // where the shadow side cannot see it
	lamp := fmt.Sprintf("lamps: {lamp: {kit: spot, at: %.9f %.9f %.9f, aim: maker.key side, dim: %.9f}}\n", at.X, at.Y, at.Z, 560*100/250e3)
	b := lit(t, people+lamp)
	r := b.levels.Ratios[0]
	if r.Name != "maker" || r.Key != "maker.key side" || r.Shadow != "maker.shadow side" {
		t.Errorf("the ratio is %+v", r)
	}
	within(t, "ratio", some(t, "ratio", r.Ratio), 8, 0.02)
	within(t, "stops", some(t, "stops", r.Stops), 3, 0.003)
	dark := lit(t, "people: {maker: {at: 0 0, faces: N, key: left}}\nwalks: {away: {marks: [50 50, 60 50], who: maker}}\n"+lamp).levels.Ratios[0]
	if dark.Ratio != nil || dark.Stops != nil || dark.Interval != 0 {
		t.Errorf("the ratio over a dark side is %+v", dark)
	}
}

// The walk of 19 m to 29 m before 476,000 cd: 1,319, 826 and 566 lx, swinging 2·log2(29/19) = 1.22 stops; with 826 lx of
// ambient 0.62.
func TestWalk(t *testing.T) {
	b := lit(t, `lamps: {lamp: {kit: spot, at: 0 0 1.6, aim: N}, twin: {kit: spot, at: 0 0 1.6, aim: N, dim: 90.4 %}}
ambient: {sky: {reading: 826 lx, shape: everywhere}}
walks: {in: {marks: [0 29, 0 19], every: 5 m}}
`)
	w := b.levels.Walks[0]
	if w.Name != "in" || len(w.Points) != 3 || w.Points[1].Along != 5 || w.Points[0].Name != "in 0.00 m" {
		t.Fatalf("the walk is %+v", w)
	}
	for i, want := range []float64{566, 826, 1319} {
		within(t, w.Points[i].Name, float64(*w.Points[i].Lux), want+826, 1)
	}
	within(t, "swing", some(t, "swing", w.Swing), 0.62, 0.005)
	for i, want := range []float64{1.22, 1.22, 0} {
		within(t, "swing of "+w.By[i].Source, some(t, "swing", w.By[i].Swing), want, 0.005)
	}
	dark := lit(t, "lamps: {lamp: {kit: spot, at: 0 0 1.6, aim: N}}\nwalks: {in: {marks: [0 19, 0 29]}}\n").levels.Walks[0]
	if dark.Swing != nil || dark.By[0].Swing != nil {
		t.Errorf("a walk with its back to the light swings %v", dark.Swing)
	}
}

// Where surfaces fall in the light that exposes the grey card: log2(ρ/0.18) over grey, snow 0.85 +2.24, black cloth 0.03
// −2.58; and with the light.
func TestTones(t *testing.T) {
	const tones = "tones: {snow: 0.85 in point, cloth: 0.03 in point, card: 0.18 in point, fresh: snow in point}\n"
	for _, row := range []struct {
		name  string
		level float64 // lx
		shift float64
	}{{"at the key", 120, 0}, {"two stops over", 480, 2}} {
		t.Run(row.name, func(t *testing.T) {
			b := lit(t, fmt.Sprintf("lamps: {lamp: {kit: spot, at: 0 5 1, aim: S, dim: %.9f}}\n", row.level/oneLevel)+atPoint+tones)
			for i, want := range []struct {
				name string
				rho  float64
				over float64
			}{{"snow", 0.85, 2.24}, {"cloth", 0.03, -2.58}, {"card", 0.18, 0}, {"fresh", 0.85, 2.24}} {
				tone := b.levels.Tones[i]
				if tone.Name != want.name || tone.In != "point" {
					t.Errorf("tone %d is %+v", i, tone)
				}
				within(t, want.name, some(t, want.name, tone.OverGrey), want.over+row.shift, 0.01)
				within(t, want.name+", reflectance", float64(tone.Reflectance), want.rho, 0.005)
				within(t, want.name+", interval", float64(tone.Interval), float64(b.point(t, "point").Interval), 1e-9)
			}
		})
	}
	dark := lit(t, oneLamp+"points: {point: {at: 0 0 1, faces: S}}\ntones: {snow: snow in point}\n").levels.Tones[0]
	if dark.OverGrey != nil {
		t.Errorf("snow in the dark is %v over grey", *dark.OverGrey)
	}
}

// A light that is no white has a level and no colour temperature.
func TestColouredLight(t *testing.T) {
	p := lit(t, "set: {rooms: {shop: {size: 5 x 4 x 3 m, openings: {window: {wall: far, size: 2 x 1 m, gel: full CTO}}}}}\n"+
		"ambient: {embers: {reading: 100 lx, shape: everywhere, colour: 1000 K, through: [window]}}\npoints: {point: {at: 2 2 1, faces: N}}\n").point(t, "point")
	if p.CCT != nil || p.Duv != nil || p.Mired != nil || !(*p.Lux > 0) {
		t.Errorf("light of 1,150 mired reads %+v", p)
	}
}

// Lists are in the order of the plan.
func TestOrder(t *testing.T) {
	b := lit(t, "lamps:\n"+aimed("z", "spot", 5, "")+aimed("a", "spot", 6, "")+`practicals: {m: {kind: candle, at: 1 1 1}}
ambient: {y: {reading: 10 lx, shape: everywhere}, b: {reading: 10 lx, shape: everywhere}}
points: {p: {at: 0 0 1, faces: N}, c: {at: 1 0 1, faces: N}}
walks: {v: {marks: [0 0, 0 2]}, d: {marks: [1 0, 1 2]}}
tones: {t: 0.5 in p, e: 0.5 in c}
targets: [{point: p, level: 1}, {walk: v, swing: 1}, {point: c, level: 1}]
`).levels
	names := func(n int, name func(int) string) (all []string) {
		for i := range n {
			all = append(all, name(i))
		}
		return all
	}
	for what, list := range map[string][2][]string{
		"points":  {names(len(b.Points), func(i int) string { return b.Points[i].Name }), {"p", "c"}},
		"lamps":   {names(len(b.Lamps), func(i int) string { return b.Lamps[i].Name }), {"z", "a", "m"}},
		"sources": {names(len(b.Points[1].By), func(i int) string { return b.Points[1].By[i].Source }), {"z", "a", "m", "y", "b"}},
		"walks":   {names(len(b.Walks), func(i int) string { return b.Walks[i].Name }), {"v", "d"}},
		"tones":   {names(len(b.Tones), func(i int) string { return b.Tones[i].Name }), {"t", "e"}},
		"targets": {names(len(b.Targets), func(i int) string { return b.Targets[i].Of }), {"p", "v", "c"}},
	} {
		if !slices.Equal(list[0], list[1]) {
			t.Errorf("%s are %q, want %q", what, list[0], list[1])
		}
	}
}
