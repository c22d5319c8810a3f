package pipeline

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"gloam/internal/meter"
	"gloam/internal/unit"
)

// Doubt is something not known exactly and what it alone leaves open in a set-up's targets, as 95 % half-widths in stops.
type Doubt struct {
	Cause    string      `json:"cause"`
	Greatest unit.Stop   `json:"greatest_stops"`
	Of       string      `json:"of"`            // the target it moves most
	Targets  []unit.Stop `json:"targets_stops"` // by the set-up's targets; 0 of those of colour and in the dark
	Words    string      `json:"words"`         // `measure the unbleached muslin first: ±0.40 stop at face`
}

// leastDoubt is what nobody would measure anything for.
const leastDoubt unit.Stop = 0.01

// remedies say what to do about each cause of doubt, by how it begins; the rest is what it is of. What only more paths
// would narrow is none of them.
var remedies = []struct{ begins, remedy string }{
	{"cloth ", "measure the %s"},
	{"figures of ", "meter the %s"},
	{"distance of ", "measure the distance of %s"},
	{"dim of ", "meter %s as dimmed"},
	{"the day against ", "meter %s again"},
	{"the sun against the model", "meter the sun%s"},
	{"the sky against the model", "meter the sky%s"},
	{"how thick the haze is", "measure the haze%s"},
	{"what the panes pass", "read the panes again%.0s"},
}

// Doubtful returns what to measure, what moves a target of the set-up most first. The same cause in several sources is
// one error: a lamp's figures move all lamps of the kind together, and a ratio that they light alike not at all.
func Doubtful(r *Result) []Doubt {
	var all []Doubt
	at := map[string]int{}
	for t, causes := range meter.Doubts(r.Setup, r.Layers) {
		for _, c := range causes {
			i, known := at[c.Cause]
			if !known {
				i = len(all)
				at[c.Cause] = i
				all = append(all, Doubt{Cause: c.Cause, Targets: make([]unit.Stop, len(r.Setup.Targets))})
			}
			d, stops := &all[i], unit.Stop(math.Abs(float64(c.Stops)))
			if d.Targets[t] = stops; stops > d.Greatest {
				d.Greatest, d.Of = stops, called(&r.Levels.Targets[t])
			}
		}
	}
	all = slices.DeleteFunc(all, func(d Doubt) bool { return d.Greatest < leastDoubt || remedy(d.Cause) == "" })
	slices.SortStableFunc(all, func(a, b Doubt) int {
		return cmp.Or(cmp.Compare(b.Greatest, a.Greatest), cmp.Compare(a.Cause, b.Cause))
	})
	for i := range all {
		first := ""
		if i == 0 {
			first = " first"
		}
		all[i].Words = fmt.Sprintf("%s%s: ±%.2f stop at %s", remedy(all[i].Cause), first, float64(all[i].Greatest), all[i].Of)
	}
	return all
}

// remedy is what to do about a cause; "" is nothing.
func remedy(cause string) string {
	for _, r := range remedies {
		if of, ok := strings.CutPrefix(cause, r.begins); ok {
			return fmt.Sprintf(r.remedy, of)
		}
	}
	return ""
}

// called names a target: what it is of, and what it is over when that is not the key.
func called(t *meter.Target) string {
	if t.Over == "key" {
		return t.Of
	}
	return t.Of + " over " + t.Over
}
