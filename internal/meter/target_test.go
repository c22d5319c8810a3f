package meter

import (
	"math"
	"testing"

	"gloam/internal/scene"
)

// Two points in the light of one lamp at 5 m and, off to the side and farther off, are as even as the inverse square says.
func TestEvenness(t *testing.T) {
	b := lit(t, oneLamp+`points: {near: {at: 0 1 1, faces: lamp}, far: {at: 0 0 1, faces: lamp}}
targets: [{across: [near, far], swing: 1/2}, {across: [near, far], swing: 1}]
`)
	near, far := b.point(t, "near"), b.point(t, "far")
	want := math.Abs(float64(*near.OverKey - *far.OverKey))
	if want < 0.3 {
		t.Fatalf("the points differ by %.2f stops alone: the check shows nothing", want)
	}
	for i, most := range []float64{0.5, 1} {
		target := b.levels.Targets[i]
		within(t, "apart", float64(*target.Level), want, 1e-9)
		outcome := map[bool]string{true: "met", false: "missed"}[want <= most]
		if target.Outcome != outcome || target.Over != DarkestPoint || target.Bound != scene.AtMost || target.Of != "near, far" {
			t.Errorf("within %g stop it is %+v", most, target)
		}
	}
}

// A lamp at 3200 K under a balance of 5600 K is 10⁶/3200 − 10⁶/5600 = 133.9 mired warm. Alone it leaves no doubt about the
// mixture; with another lamp of as much light beside it the doubt of their levels does.
func TestColourTarget(t *testing.T) {
	alone := lit(t, `lamps: {lamp: {kit: B12-D26, at: 0 5 1, aim: 0 0 1, colour: 3200 K}}
targets: [{point: point, mired: +134}, {point: point, mired: +100, within: 20}]
`+atPoint)
	target := alone.levels.Targets[0]
	within(t, "mired", float64(*target.Colour.Level), 1e6/3200-1e6/5600, 1)
	within(t, "interval", float64(target.Colour.Interval), 0, 1e-6)
	if target.Outcome != "met" || target.Over != "balance" || target.Level != nil || alone.levels.Targets[1].Outcome != "missed" {
		t.Errorf("alone it is %+v, then %+v", target, alone.levels.Targets[1])
	}
	mixed := lit(t, `lamps: {lamp: {kit: B12-D26, at: 0 5 1, aim: 0 0 1, colour: 3200 K}, other: {kit: B12-D26, at: 0 5 1, aim: 0 0 1}}
targets: [{point: point, mired: +64, within: 30}]
`+atPoint)
	target = mixed.levels.Targets[0]
	// 3200 K at 0.85 of the other's light: by the share of each in mired, 133.9·0.85/1.85 = 61.5, to first order.
	within(t, "mired of the mixture", float64(*target.Colour.Level), 61.5, 6)
	if target.Colour.Interval < 5 || target.Colour.Interval > 60 {
		t.Errorf("the interval is %v", target.Colour.Interval)
	}
}
