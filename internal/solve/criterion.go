package solve

import (
	"cmp"
	"math"
	"slices"

	"gloam/internal/unit"
)

// Criterion is what answers are ranked by.
type Criterion string

// The criteria. Each is coarse, so that the next has a say: reserve by its class (½ to 2½ stops is best, then more, then
// less, then too little), current in amperes, power in 100 W, hands in whole people, mass in 5 kg, time in 5 minutes,
// noise in 3 dB, softness in 5° (more is better); money counts exactly.
const (
	ByReserve  Criterion = "reserve"
	ByCurrent  Criterion = "current"
	ByPower    Criterion = "power"
	ByHands    Criterion = "hands"
	ByMass     Criterion = "mass"
	ByTime     Criterion = "time"
	ByMoney    Criterion = "money"
	ByNoise    Criterion = "noise"
	BySoftness Criterion = "softness"
)

// order is the order stated, or what is usual.
func (k *Kit) order() []Criterion {
	if len(k.Order) == 0 {
		return []Criterion{ByReserve, ByCurrent, ByHands, ByTime, ByMoney, BySoftness}
	}
	return k.Order
}

// known reports whether there is such a criterion.
func (c Criterion) known() bool {
	switch c {
	case ByReserve, ByCurrent, ByPower, ByHands, ByMass, ByTime, ByMoney, ByNoise, BySoftness:
		return true
	}
	return false
}

// sort ranks answers; of equals, the earlier choice comes first.
func (k *Kit) sort(answers []KitAnswer) {
	slices.SortFunc(answers, func(a, b KitAnswer) int { return cmp.Or(Compare(&a, &b, k.Order), slices.Compare(a.Choice, b.Choice)) })
}

// Compare ranks two answers, of one kit or of two: below 0 where a is the better. The worst miss in twentieths of a stop
// counts first, then the criteria in their order, as usual where none is given, then what little more is missed.
func Compare(a, b *KitAnswer, order []Criterion) int {
	by := cmp.Compare(math.Ceil(float64(a.Answer.Miss)*20), math.Ceil(float64(b.Answer.Miss)*20))
	k := Kit{Order: order}
	for _, c := range k.order() {
		by = cmp.Or(by, cmp.Compare(c.of(a), c.of(b)))
	}
	return cmp.Or(by, cmp.Compare(a.Answer.Miss, b.Answer.Miss))
}

// of returns a criterion's figure: the less, the better.
func (c Criterion) of(a *KitAnswer) float64 {
	switch c {
	case ByReserve:
		return reserveClass(a.Least)
	case ByMoney:
		return a.Cost.Money
	case BySoftness:
		return -math.Round(float64(a.Softness) / 5)
	}
	step, f := c.step()
	v := a.Cost.figures()[f]
	if c == ByNoise {
		v = float64(a.Cost.Noise)
	}
	return math.Round(v / step)
}

// step returns how coarse a cost is ranked, and which figure it is.
func (c Criterion) step() (step float64, figure int) {
	switch c {
	case ByCurrent:
		return 1, 0
	case ByPower:
		return 100, 1
	case ByHands:
		return 1, 2
	case ByMass:
		return 5, 3
	case ByTime:
		return 300, 4
	case ByMoney:
		return 1, 5
	case ByNoise:
		return 3, 6
	}
	panic("solve: no such criterion")
}

// reserveClass orders reserves: half to two and a half stops, more, less, too little (the limits are common practice, no
// source).
func reserveClass(r unit.Stop) float64 {
	switch {
	case r < 0:
		return 3
	case r < 0.5:
		return 2
	case r > 2.5 && !math.IsInf(float64(r), 1):
		return 1
	}
	return 0
}

// spend returns what each cost adds to a score for each unit of it, below a class of reserve in all: the first that the
// order names most, each further one a tenth of that.
func (k *Kit) spend(most [costs]float64) (by [costs]float64) {
	part := 0.9
	for _, c := range k.order() {
		if c == ByReserve || c == BySoftness {
			continue
		}
		_, f := c.step()
		if most[f] > 0 {
			by[f] = part / most[f]
		}
		part /= 10
	}
	return by
}
