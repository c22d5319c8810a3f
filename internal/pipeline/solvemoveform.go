package pipeline

import (
	"errors"
	"fmt"
	"strings"

	"gloam/internal/unit"
)

// Move is a thing that may stand elsewhere: a lamp, a cloth or a person, at another distance from what it is turned to, higher
// or lower, on a line, or inside an area.
type Move struct {
	Name      string      `json:"name"`
	Kind      string      `json:"kind"` // distance, height, line, area
	Low, High unit.Metre  // of distance and height
	From, To  unit.Point2 // ends of a line, corners of an area
}

// MoveForms says how a move is written.
const MoveForms = `NAME: distance 2 m..6 m, NAME: height 1.5 m..3 m, NAME: from 1 2 to 3 4, NAME: inside 1 2 to 3 4`

// Parse reads a move as it is written.
func (m *Move) Parse(text string) error {
	name, rest, ok := strings.Cut(text, ":")
	word, rest, more := strings.Cut(strings.TrimSpace(rest), " ")
	if !ok || !more {
		return errors.New("says not how something may move")
	}
	read := Move{Name: strings.TrimSpace(name)}
	switch word {
	case "distance", "height":
		low, high, ok := strings.Cut(rest, "..")
		if !ok {
			return errors.New("has no range such as 2 m..6 m")
		}
		read.Kind = word
		if err := errors.Join(read.Low.Parse(strings.TrimSpace(low)), read.High.Parse(strings.TrimSpace(high))); err != nil {
			return err
		}
		if read.Low > read.High {
			return errors.New("goes from a greater to a smaller length")
		}
	case "from", "inside":
		from, to, ok := strings.Cut(rest, " to ")
		if !ok {
			return errors.New("has no two places such as 1 2 to 3 4")
		}
		read.Kind = map[string]string{"from": "line", "inside": "area"}[word]
		if err := errors.Join(read.From.Parse(strings.TrimSpace(from)), read.To.Parse(strings.TrimSpace(to))); err != nil {
			return err
		}
	default:
		return fmt.Errorf("does not know %q", word)
	}
	*m = read
	return nil
}
