package pipeline

import (
	"math"

	"gloam/internal/plan"
	"gloam/internal/solve"
	"gloam/internal/unit"
)

// Takes is what a proposal takes, with all lamps at full output; null is not known of some lamp.
type Takes struct {
	Current unit.Ampere   `json:"current_a"`
	Power   unit.Watt     `json:"power_w"`
	Hands   float64       `json:"hands"`
	Mass    unit.Kilogram `json:"mass_kg"`
	Minutes float64       `json:"minutes"`
	Noise   unit.DecibelA `json:"noise_db_a"` // at 1 m of each lamp; 0 is none
	Hire    float64       `json:"hire"`
}

func takesOf(c *solve.Cost) Takes {
	return Takes{unit.Ampere(c.Current), c.Power, c.Hands, c.Mass, float64(c.Time) / 60, c.Noise, c.Money}
}

// takes is what an outfit takes at full output. Hands and minutes are rough: one person and ten minutes, two and a quarter of
// an hour where a stand carries more than 15 kg (common practice, no source).
func (s *solver) takes(o *outfit) (c solve.Cost) {
	if o.kit == nil {
		return c
	}
	if p := o.kit.Power; p != nil {
		c.Power, c.Current = p.Full, float64(p.Full)/float64(*s.view.Document.Supply.Voltage)/float64(p.Factor)
	}
	c.Hands, c.Time = 1, 600
	if m := o.kit.Mass; m != nil {
		if c.Mass = m.Total(); m.OnStand() > 15 {
			c.Hands, c.Time = 2, 900
		}
	}
	if noise, ok := o.kit.Noise(o.mode); ok {
		c.Noise = noise
	}
	if stock, ok := s.view.Document.Truck.Get(o.item); ok {
		c.Money = stock.Hire
	}
	return c
}

// plannedTakes is what the set-up takes as planned: its frames and the lamps that are on.
func (s *solver) plannedTakes() *solve.Cost {
	sum := &solve.Cost{}
	noise := 0.0
	for i := range s.planned.Setup.Lamps {
		u := &s.planned.Setup.Lamps[i]
		if l, ok := s.view.Document.Lamps.Get(u.Name); ok && u.Kit != nil && u.Dim > 0 {
			c := s.takes(&outfit{item: u.Kit.Name, kit: u.Kit, mode: l.Mode})
			sum.Current, sum.Power, sum.Mass, sum.Money = sum.Current+c.Current, sum.Power+c.Power, sum.Mass+c.Mass, sum.Money+c.Money
			addTakes(sum, &c)
			if c.Noise > 0 {
				noise += math.Pow(10, float64(c.Noise)/10)
			}
		}
	}
	if noise > 0 {
		sum.Noise = unit.DecibelA(10 * math.Log10(noise))
	}
	for i := range s.view.Document.Cloths {
		frame := frameOf(&s.view.Document.Cloths[i].Value)
		addTakes(sum, &frame)
	}
	return sum
}

func addTakes(to, more *solve.Cost) {
	to.Hands, to.Time = to.Hands+more.Hands, to.Time+more.Time
}

func frameOf(c *plan.Cloth) solve.Cost { return costOfFrame(float64(max(c.Size.Width, c.Size.Height))) }

// costOfFrame is what a square frame takes: up to 1.5 m one person, up to 2.5 m two, above four; 10, 15 and 20 minutes of one
// (common practice, no source).
func costOfFrame(side float64) solve.Cost {
	switch {
	case side <= 1.5:
		return solve.Cost{Hands: 1, Time: 600}
	case side <= 2.5:
		return solve.Cost{Hands: 2, Time: 900}
	}
	return solve.Cost{Hands: 4, Time: 1200}
}

// affords reports whether what stands in a world, lamps aside, keeps to the plan's limits.
func (s *solver) affords(taken *solve.Cost) bool {
	l := &s.view.Document.Limits
	return (l.Hands == nil || taken.Hands <= *l.Hands) && (l.Minutes == nil || float64(taken.Time) <= 60*float64(*l.Minutes))
}

// budget is what a world leaves of the plan's limits.
func (s *solver) budget(taken *solve.Cost) (c solve.Cost) {
	l := &s.view.Document.Limits
	const none = 1e-9 // 0 would be no limit
	if l.Current != nil {
		c.Current = max(float64(*l.Current), none)
	}
	if l.Power != nil {
		c.Power = max(*l.Power, none)
	}
	if l.Hands != nil {
		c.Hands = max(*l.Hands-taken.Hands, none)
	}
	if l.Mass != nil {
		c.Mass = max(*l.Mass, none)
	}
	if l.Minutes != nil {
		c.Time = max(unit.Second(60*float64(*l.Minutes))-taken.Time, none)
	}
	if l.Hire != nil {
		c.Money = max(*l.Hire, none)
	}
	if l.Noise != nil {
		c.Noise = max(*l.Noise, none)
	}
	return c
}
