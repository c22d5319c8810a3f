package solve

import (
	"math"
	"testing"

	"gloam/internal/unit"
)

// By hand: a bounce through muslin gives 60 lx and a direct lamp 20 lx over 20 lx of ambient. Muslin off by 0.4 stop moves
// the level by log2((40 + 60·2^±0.4)/100): half the difference is 0.2398. The lamp's 0.15 stop moves its fifth by 0.0300,
// the day's third of a stop likewise by 0.0670.
func TestSensitivity(t *testing.T) {
	p := one(numbered(2), []Point{lit(20, 60, 40), lit(5, 10, 0)}, Target{Name: "face", Over: OverKey},
		Target{Name: "wall", Point: 1, Over: 0})
	inputs := []Input{
		{"lamp", 0.15, []Through{{Source: 1}}},
		{"day", 1. / 3, []Through{{Source: OfAmbient}}},
		{"muslin", 0.4, []Through{{Source: 0}}},
		{"everything", 1, []Through{{Source: 0}, {Source: 1}, {Source: OfAmbient}, {Source: OfFixed}}},
		{"nothing", 1, nil},
	}
	got, err := p.Sensitivity([]unit.Fraction{1, 0.5}, inputs)
	if err != nil {
		t.Fatal(err)
	}
	face := map[string]float64{}
	var order []string
	for _, i := range got {
		name := inputs[i.Input].Name
		order = append(order, name)
		face[name] = float64(i.Targets[0])
		if name == "everything" {
			within(t, "a ratio when all moves", float64(i.Targets[1]), 0, 1e-12)
		}
	}
	for name, want := range map[string]float64{"muslin": 0.2398, "lamp": 0.0300, "day": 0.0670, "everything": 1, "nothing": 0} {
		within(t, name, face[name], want, 5e-5)
	}
	within(t, "interval", float64(Intervals(got, 2)[0]), math.Sqrt(0.2398*0.2398+0.03*0.03+0.067*0.067+1), 1e-4)
	if order[0] != "everything" || order[1] != "muslin" || order[4] != "nothing" {
		t.Errorf("order %v", order)
	}
}

// A black that half of a source's light comes by moves half of it; a swing has no sign.
func TestSensitivityOfAShare(t *testing.T) {
	p := one(numbered(1), []Point{lit(0, 100), lit(0, 50)}, Target{Across: []int{0, 1}, Wanted: 1})
	got, err := p.Sensitivity([]unit.Fraction{1}, []Input{{"cloth", 1, []Through{{0, []unit.Fraction{0.5, 0}}}}})
	if err != nil {
		t.Fatal(err)
	}
	// (log2(150/50) − log2(75/50))/2 = 0.5
	within(t, "swing", float64(got[0].Targets[0]), 0.5, 1e-9)
}
