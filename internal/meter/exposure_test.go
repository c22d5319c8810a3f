package meter

import (
	"math"
	"testing"
)

// A globe of 470 lm and 0.14 m is 2,430 cd/m²: log2(π·2,430/(0.18·640)) = +6.05 over grey at a key of 640 lx. A spot sees
// it as it is; a point beside it gets πL·r²/d².
func TestSpot(t *testing.T) {
	b := put(t, 0.002, `practicals: {globe: {kind: globe, at: 0 5 1, diameter: 0.14 m, flux: 470 lm}}
points: {seen: {at: globe, receptor: spot}, beside: {at: 0 4.1 1, faces: N}, past: {at: 3 5 1, receptor: spot}}
camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8, at: 0 0 1, aim: N, constant: 1333.333}
`)
	within(t, "key", float64(b.levels.Key), 640, 1e-3)
	seen := b.point(t, "seen")
	within(t, "luminance", some(t, "luminance", seen.Luminance), 2430, 1)
	within(t, "over grey", some(t, "over grey", seen.OverKey), 6.05, 0.005)
	if seen.Lux != nil || seen.By[0].Lux != nil || *seen.By[0].Luminance != *seen.Luminance {
		t.Errorf("the spot reads %+v", seen)
	}
	within(t, "beside", float64(*b.point(t, "beside").Lux), 2430*math.Pi*0.07*0.07/(0.9*0.9), 0.1)
	if past := b.point(t, "past"); *past.Luminance != 0 || past.OverKey != nil {
		t.Errorf("a spot past the globe reads %v", *past.Luminance)
	}
}

// A sky's luminance as read in the window stands in for its layer at the spot, cut by the window's gel; the levels in
// the room stay the reading's.
func TestSkySeen(t *testing.T) {
	const plan = `set: {rooms: {shop: {size: 5 x 4 x 3 m, walls: 0, floor: 0, ceiling: 0, openings: {window: {wall: far, size: 2 x 1 m, glass: none, gel: ND 1.5}}}}}
ambient: {sky: {reading: 640 lx, shape: everywhere, colour: 7500 K, through: [window], luminance: 2400 cd/m2}}
points: {seen: {at: window, receptor: spot}, here: {at: 2 2 1.4, faces: N}}
`
	b := put(t, 0.01, plan+"camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8, at: 2.5 1 1.4, aim: N}\n")
	gel := math.Pow(10, -1.5)
	within(t, "in the window", some(t, "luminance", b.point(t, "seen").Luminance), 2400*gel, 0.5)
	within(t, "in the room", some(t, "lux", b.point(t, "here").Lux), 640*gel, 0.1)
	// The constant of day for dusk: the sky in the window over grey in its own ambient, log2(π·2400/(0.18·640)) = 6.03.
	s := some(t, "sky", b.point(t, "seen").OverKey) - some(t, "room", b.point(t, "here").OverKey)
	within(t, "sky over its own ambient", s, 6.03, 0.01)
	within(t, "colour of the sky", some(t, "CCT", b.point(t, "seen").CCT), 7500, 50)
}

// The filter that 46,308 lx need at T4, EI 800 and 1/48 s: 7.59 stops, so ND 2.1 and 0.59 of iris, or ND 2.4 and open
// 0.41. What is wanted over the key takes less off.
func TestExposure(t *testing.T) {
	const body = "ambient: {sun: {reading: 46308 lx, shape: everywhere}}\npoints: {seen: {at: 0 9 1, receptor: spot}, point: {at: 0 0 1, faces: N}, other: {at: 1 0 1, faces: N}}\n" +
		"camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T4, at: 0 -1 1, aim: N, nd: ND 0.6}\n"
	needed := math.Log2(46308.0 / 240)
	b := put(t, 0.01, body)
	e := b.levels.Exposure
	if e.Reference != "point" || e.Wanted != 0 || b.levels.ND != e.Needed || len(e.Choices) != 2 {
		t.Fatalf("the exposure is %+v", e)
	}
	within(t, "needed, whatever filter is in", float64(e.Needed), needed, 1e-6)
	within(t, "needed", needed, 7.6, 0.02) // as the formula sheet rounds it
	for i, nd := range []float64{2.1, 2.4} {
		c := e.Choices[i]
		rest := needed - nd/0.3
		within(t, "ND", float64(c.ND), nd, 1e-9)
		within(t, "rest", float64(c.Rest), rest, 1e-6)
		within(t, "stop", float64(c.Stop), 4*math.Exp2(rest/2), 1e-6)
		within(t, "EI", float64(c.EI), 800/math.Exp2(rest), 1e-3)
		within(t, "shutter", float64(c.Shutter), math.Exp2(-rest)/48, 1e-6)
	}
	wanted := put(t, 0.01, body+"targets: [{point: seen, level: +1}, {point: other, level: +1}]\n").levels.Exposure
	if wanted.Reference != "other" || wanted.Wanted != 1 {
		t.Errorf("the reference is %q at %v, want the first target over key that is no spot", wanted.Reference, wanted.Wanted)
	}
	within(t, "needed for +1", float64(wanted.Needed), needed-1, 1e-6)
	weak := put(t, 0.01, "ambient: {dusk: {reading: 60 lx, shape: everywhere}}\n"+atPoint+camera).levels.Exposure
	within(t, "a stop of light lacks", float64(weak.Needed), -1, 1e-6)
	if len(weak.Choices) != 1 || weak.Choices[0].ND != 0 {
		t.Fatalf("what is left to do is %+v", weak.Choices)
	}
	within(t, "or the shutter", float64(weak.Choices[0].Shutter), 1.0/24, 1e-9)
	less := put(t, 0.01, "ambient: {dusk: {reading: 30 lx, shape: everywhere}}\n"+atPoint+camera).levels.Exposure
	within(t, "a shutter longer than the frame", float64(less.Choices[0].Shutter), 0, 0)
	dark := lit(t, oneLamp+"points: {point: {at: 0 0 1, faces: S}}\n").levels
	if dark.Exposure.Reference != "" || dark.ND != 0 || dark.Exposure.Choices == nil {
		t.Errorf("the exposure of a dark plan is %+v", dark.Exposure)
	}
}
