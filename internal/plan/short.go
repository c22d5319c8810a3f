package plan

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"gloam/internal/unit"
)

// A single value may stand for each of these, where it says all that most plans need.

// ParseShort reads a room's size.
func (r *Room) ParseShort(text string) error { return r.Size.Parse(text) }

// Forms says what a single value for a room is.
func (Room) Forms() string { return Room{}.Size.Forms() }

// ParseShort reads the ground's material.
func (g *Ground) ParseShort(text string) error {
	g.Material = text
	return nil
}

// Forms says what a single value for the ground is.
func (Ground) Forms() string { return "a material: snow, grass, 0.3" }

// ParseShort reads the extinction of haze.
func (h *Haze) ParseShort(text string) error {
	h.Extinction = new(unit.Extinction)
	return h.Extinction.Parse(text)
}

// Forms says what a single value for haze is.
func (Haze) Forms() string { return unit.Extinction(0).Forms() }

// ParseShort reads where a mark is.
func (m *Mark) ParseShort(text string) error { return m.At.Parse(text) }

// Forms says what a single value for a mark is.
func (Mark) Forms() string { return Where{}.Forms() }

// ParseShort reads a trade word, a reflectance, or both.
func (m *Material) ParseShort(text string) error {
	f, err := parseFinish(text)
	if err != nil {
		return err
	}
	if f.Mirror {
		return errors.New("is a mirror, not a matt surface; write it where it is used")
	}
	*m = Material{Like: f.Word, Reflectance: f.Reflectance}
	return nil
}

// Forms says what a single value for a material is.
func (Material) Forms() string { return finishForms }

// ParseShort reads a material and the point in whose light it is: snow in maker.front.
func (t *Tone) ParseShort(text string) error {
	material, point, found := strings.Cut(strings.Join(strings.Fields(text), " "), " in ")
	if !found {
		return fmt.Errorf("does not say in whose light: %s in maker.front", strings.TrimSpace(text))
	}
	*t = Tone{Material: material, In: point}
	return nil
}

// Forms says what a single value for a tone is.
func (Tone) Forms() string { return "a material and a point: snow in maker.front" }

// ParseShort reads how many of a kit item there are.
func (s *Stock) ParseShort(text string) error {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > 1000 {
		return errors.New("is no number of lamps from 1 to 1000")
	}
	*s = Stock{Count: n}
	return nil
}

// Forms says what a single value for a stock is.
func (Stock) Forms() string { return "a number: 2" }
