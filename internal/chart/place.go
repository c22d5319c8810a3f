package chart

import (
	"cmp"
	"slices"
)

// wish is a place that something wants along a line, and the room it takes there.
type wish struct{ at, room float64 }

// spread returns a place for each wish, none overlapping and all from low to high where their rooms fit between: those
// that would overlap form a row around the mean of what they want. The order along the line is that of the wishes.
func spread(wishes []wish, low, high float64) []float64 {
	order := make([]int, len(wishes))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(wishes[a].at, wishes[b].at) })
	var rows []row
	for n, i := range order {
		w := wishes[i]
		next := row{first: n, count: 1, room: w.room, sum: w.at - w.room/2}
		next.settle(low, high)
		for len(rows) > 0 && rows[len(rows)-1].start+rows[len(rows)-1].room > next.start {
			before := rows[len(rows)-1]
			rows = rows[:len(rows)-1]
			next = row{before.first, before.count + next.count, before.room + next.room,
				before.sum + next.sum - float64(next.count)*before.room, 0}
			next.settle(low, high)
		}
		rows = append(rows, next)
	}
	places := make([]float64, len(wishes))
	for _, r := range rows {
		at := r.start
		for _, i := range order[r.first : r.first+r.count] {
			places[i] = at + wishes[i].room/2
			at += wishes[i].room
		}
	}
	return places
}

// row is a run of wishes that touch. sum is the sum of the starts that its members would give it.
type row struct {
	first, count int
	room, sum    float64
	start        float64
}

func (r *row) settle(low, high float64) {
	r.start = max(low, min(r.sum/float64(r.count), high-r.room))
}

// lanes returns for each stretch, from its first to its second number, the first lane in which it touches none before it,
// and how many lanes there are.
func lanes(stretches [][2]float64) (lane []int, count int) {
	var ends [][][2]float64
	for _, s := range stretches {
		n := slices.IndexFunc(ends, func(taken [][2]float64) bool {
			return !slices.ContainsFunc(taken, func(t [2]float64) bool { return s[0] < t[1] && t[0] < s[1] })
		})
		if n < 0 {
			n = len(ends)
			ends = append(ends, nil)
		}
		ends[n] = append(ends[n], s)
		lane = append(lane, n)
	}
	return lane, len(ends)
}
