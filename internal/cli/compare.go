package cli

import (
	"slices"

	"gloam/internal/pipeline"
)

// side is the width of a set-up's column beside others.
const side = 14

// printComparison puts a plan's set-ups side by side: what each makes of the points, the ratios, the targets and the
// lamps' reserves. As many as fit stand in one block.
func (t *terminal) printComparison(title, file string, results []*pipeline.Result) {
	t.line("%s", t.style.bold(title+": "+count(len(results), "set-up")+" side by side"))
	t.line("Stops over key, ± is 95 %%. All of one: gloam levels %s --setup NAME", file)
	const first = 24
	for block := range slices.Chunk(results, (lineWidth-first)/side) {
		head := pad("", first)
		for _, r := range block {
			head += right(clipped(r.Setup.Name, side-1), side)
		}
		t.heading(head)
		t.compare(block, first, "", func(r *pipeline.Result) []cell {
			var cells []cell
			for _, p := range r.Levels.Points {
				cells = append(cells, cell{p.Name, over(p.OverKey, p.Interval)})
			}
			return cells
		})
		t.compare(block, first, "ratio, stops", func(r *pipeline.Result) []cell {
			var cells []cell
			for _, x := range r.Levels.Ratios {
				text := "dark"
				if x.Stops != nil {
					text = apart(*x.Stops) + " " + x.Interval.Interval()
				}
				cells = append(cells, cell{x.Name, text})
			}
			return cells
		})
		t.compare(block, first, "targets", func(r *pipeline.Result) []cell {
			var cells []cell
			for _, x := range r.Levels.Targets {
				cells = append(cells, cell{wished(&x), shapes[x.Outcome] + " " + x.Outcome})
			}
			return cells
		})
		t.compare(block, first, "reserve, stops", func(r *pipeline.Result) []cell {
			var cells []cell
			for _, x := range r.Levels.Lamps {
				text := x.Outcome
				if x.Reserve != nil {
					text = signed(float64(*x.Reserve))
				}
				cells = append(cells, cell{x.Name, text})
			}
			return cells
		})
	}
}

// cell is one set-up's entry in a row.
type cell struct{ row, text string }

// compare prints the rows that any of the set-ups has, in the order they first come.
func (t *terminal) compare(block []*pipeline.Result, first int, title string, of func(*pipeline.Result) []cell) {
	var rows []string
	cells := make([]map[string]string, len(block))
	for i, r := range block {
		cells[i] = map[string]string{}
		for _, c := range of(r) {
			if !slices.Contains(rows, c.row) {
				rows = append(rows, c.row)
			}
			cells[i][c.row] = c.text
		}
	}
	if len(rows) > 0 && title != "" {
		t.line("%s", t.style.dim(title))
	}
	for _, row := range rows {
		line := pad(clipped(row, first-1), first)
		for i := range block {
			line += right(clipped(cells[i][row], side-1), side)
		}
		t.line("%s", line)
	}
}
