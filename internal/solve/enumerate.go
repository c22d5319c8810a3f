package solve

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gloam/internal/numeric"
)

const (
	shortlist = 2000 // choices that are solved in stops
	sweeps    = 12   // of one choice's descent, at most
	breath    = 1 << 13
)

// scored is a choice, counted with the last position fastest, and what orders it for the shortlist.
type scored struct {
	score  float64
	choice int
}

// walker goes through all choices of a kit, position by position, and keeps the best.
type walker struct {
	kit       *Kit
	columns   *columns
	table     [][][costs]float64 // cost by position and alternative
	budget    [costs]float64
	spend     [costs]float64 // what one unit of each cost adds to the score
	column    []int          // of the choice at hand: the exposure's, then one for each position
	gram      []float64      // of the choice
	mixed     []float64
	steep     []float64 // inverse of the gram's diagonal
	x, slope  []float64
	rows      []float64 // misses that count one way, as last found
	lampAt    []bool
	used      []int // of the stock, by the choice at hand
	kept      []scored
	worst     float64 // score from which a choice is not kept
	done      int
	below     []int // choices below a position
	cancelled bool
	tell      func(done int)
}

func newWalker(k *Kit, near []reference) *walker {
	n := len(k.Positions) + 1
	vector := func() []float64 { return make([]float64, n) }
	w := &walker{kit: k, columns: newColumns(k, near), budget: k.Budget.figures(), column: make([]int, n), gram: make([]float64, n*n),
		mixed: vector(), steep: vector(), x: vector(), slope: vector(), lampAt: make([]bool, n), worst: math.Inf(1),
		below: make([]int, n), table: make([][][costs]float64, n-1)}
	w.used = make([]int, len(k.Stock))
	w.below[n-1] = 1
	for i := n - 2; i >= 0; i-- {
		w.below[i] = w.below[i+1] * len(k.Positions[i].Alternatives)
	}
	w.rows = make([]float64, len(w.columns.one))
	var most [costs]float64
	for i := range w.table {
		var dearest [costs]float64
		for _, a := range k.Positions[i].Alternatives {
			f := a.Cost.figures()
			w.table[i] = append(w.table[i], f)
			for c := range f {
				dearest[c] = max(dearest[c], f[c])
			}
		}
		for c := range most {
			most[c] += dearest[c]
		}
	}
	w.spend = k.spend(most)
	for i := range w.x {
		w.x[i] = 0.5
	}
	w.pick(0, 0)
	return w
}

// pick takes a column for variable i, and its products with those before it.
func (w *walker) pick(i, column int) {
	n, c := len(w.column), w.columns
	w.column[i] = column
	for j, other := range w.column[:i+1] {
		g := c.gram[column*c.n+other]
		w.gram[i*n+j], w.gram[j*n+i] = g, g
	}
	w.mixed[i], w.steep[i] = c.mixed[column], 0
	if g := w.gram[i*n+i]; g > 0 {
		w.steep[i] = 1 / g
	}
	w.x[i] = min(max(w.x[i], c.low[column]), c.high[column])
}

// take puts an alternative at a position.
func (w *walker) take(position, alternative int) {
	w.pick(position+1, w.columns.first[position]+alternative)
	w.lampAt[position+1] = w.kit.Positions[position].Alternatives[alternative].By != nil
}

// fits adds an alternative's cost and reports whether all is still within the budget.
func (w *walker) fits(cost *[costs]float64, position, alternative int) bool {
	fits := true
	for c, f := range w.table[position][alternative] {
		cost[c] += f
		fits = fits && (w.budget[c] == 0 || cost[c] <= w.budget[c]*(1+1e-9))
	}
	return fits
}

// stocked takes so many of an alternative's item from the stock and reports whether there are as many.
func (w *walker) stocked(position, alternative, n int) bool {
	item := w.kit.Positions[position].Alternatives[alternative].Item
	if item == 0 {
		return true
	}
	w.used[item-1] += n
	return w.used[item-1] <= w.kit.Stock[item-1]
}

// walk tries each alternative from a position on; choice and cost are what stands before it.
func (w *walker) walk(ctx context.Context, position, choice int, cost [costs]float64) {
	if position == len(w.table) {
		w.judge(choice, &cost)
		return
	}
	for j := range w.table[position] {
		if w.cancelled {
			return
		}
		next := cost
		fits := w.stocked(position, j, 1) && w.fits(&next, position, j)
		if fits {
			w.take(position, j)
			w.walk(ctx, position+1, choice+j*w.below[position+1], next)
		}
		w.stocked(position, j, -1)
		if before := w.done / breath; !fits || position == len(w.table)-1 {
			w.done += w.below[position+1]
			if w.done/breath > before {
				w.cancelled = ctx.Err() != nil
				w.tell(w.done)
			}
		}
	}
}

// sample judges choices drawn at random within the budget.
func (w *walker) sample(choices int) {
	var s numeric.Points
	for range choices {
		choice, fits := 0, true
		var cost [costs]float64
		for i, alternatives := range w.table {
			u, _ := s.Next()
			j := int(u * float64(len(alternatives)))
			w.take(i, j)
			choice += j * w.below[i+1]
			fits = w.stocked(i, j, 1) && w.fits(&cost, i, j) && fits
		}
		clear(w.used)
		if fits {
			w.judge(choice, &cost)
		}
	}
}

// judge scores a choice and keeps it if it is among the best: first by what is missed beyond the tolerances, then by
// reserve, then by cost.
func (w *walker) judge(choice int, cost *[costs]float64) {
	price := 0.
	for c, f := range cost {
		price += f * w.spend[c]
	}
	sum, ok := w.descend(w.worst - price)
	if !ok {
		return
	}
	score := price + w.class()
	if miss := sum - w.columns.within; miss > 0 {
		score += dear * miss
	}
	if score >= w.worst {
		return
	}
	if w.kept = append(w.kept, scored{score, choice}); len(w.kept) == 2*shortlist {
		w.prune()
	}
}

// dear is how much a squared miss weighs in the score: a thousandth, some 0.05 stop, weighs as much as a class of reserve.
const dear = 1000

// prune keeps the best; of equals, those that come first.
func (w *walker) prune() {
	slices.SortFunc(w.kept, func(a, b scored) int {
		return cmp.Or(cmp.Compare(a.score, b.score), cmp.Compare(a.choice, b.choice))
	})
	if len(w.kept) > shortlist {
		w.kept = w.kept[:shortlist]
		w.worst = w.kept[shortlist-1].score
	}
}

// class orders settings by the least reserve of their lamps, as reserveClass does.
func (w *walker) class() float64 {
	most := 0.
	for i, column := range w.column {
		if high := w.columns.high[column]; w.lampAt[i] && high > 0 {
			most = max(most, w.x[i]/high)
		}
	}
	switch {
	case most > math.Sqrt2/2:
		return 2
	case most < 0.18 && most > 0: // 2½ stops
		return 1
	}
	return 0
}
