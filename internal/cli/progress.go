package cli

import "fmt"

// progress returns what shows how far a set-up is, on a terminal; nothing elsewhere.
func (t *terminal) progress(name string) func(float64) {
	if !styleFor(t.err).on {
		return nil
	}
	return func(share float64) { fmt.Fprintf(t.err, "\r%s %3.0f %% of points sure ", name, 100*share) }
}

// endProgress clears the line.
func (t *terminal) endProgress() {
	if styleFor(t.err).on {
		fmt.Fprint(t.err, "\r\x1b[K")
	}
}
