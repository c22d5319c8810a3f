package plan

import (
	"strings"

	"gloam/internal/unit"
)

// Extent is a size of two or three sides, each above 0. Depth is 0 where two were written.
type Extent struct{ Width, Depth, Height unit.Metre }

// Parse reads two or three sides.
func (e *Extent) Parse(text string) error {
	var two unit.Size2
	err := two.Parse(text)
	if err == nil {
		*e = Extent{Width: two.Width, Height: two.Height}
		return nil
	}
	if strings.Count(strings.ToLower(text), "x")+strings.Count(text, "×") == 1 {
		return err
	}
	var three unit.Size3
	if err := three.Parse(text); err != nil {
		return err
	}
	*e = Extent(three)
	return nil
}

// Forms says how a size is written.
func (Extent) Forms() string { return "a size: 1.2 x 2.4 m, 1.8 x 0.7 x 0.9 m, 8 x 4 ft" }
