package pipeline

import "gloam/internal/plan"

// PlannedTakes returns what a set-up takes as planned, lamps that are on at full output; r is what was read of it.
func PlannedTakes(view *plan.View, r *Result) Takes {
	s := &solver{view: view, planned: r}
	return takesOf(s.plannedTakes())
}
