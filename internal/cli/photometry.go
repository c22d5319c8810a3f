package cli

import (
	"bytes"
	"strings"

	"github.com/spf13/cobra"

	"gloam/internal/fault"
	"gloam/internal/photometry"
	"gloam/internal/unit"
)

func photometric(t *terminal) *cobra.Command {
	var at []string
	c := &cobra.Command{
		Use:     "photometry FILE",
		Short:   "What an LM-63 or EULUMDAT file says: flux, peak, beam, intensity",
		Example: `  gloam photometry head.ies --at 0,0 --at 100,47`,
		Args:    exactly(1, "one photometric file"),
		RunE:    func(_ *cobra.Command, args []string) error { return t.photometry(args[0], at) },
	}
	c.Flags().StringArrayVar(&at, "at", nil, "intensity at plane C and angle gamma in degrees, as C,G; may be given again")
	return c
}

func (t *terminal) photometry(name string, at []string) error {
	var angles [][2]unit.Degree
	for _, text := range at {
		a, err := anglePair(text)
		if err != nil {
			return err
		}
		angles = append(angles, a)
	}
	text, err := readFile(name)
	if err != nil {
		return err
	}
	read, err := photometry.ReadFile(name, bytes.NewReader(text))
	if err != nil {
		return err
	}
	t.note(read.Notes)
	s := photometry.Summarise(read, angles)
	if t.json {
		return t.printJSON(s)
	}
	t.line("%s, %s", t.style.bold(name), read.Format)
	t.line("  flux      %s", s.Flux)
	t.line("  peak      %s", s.Peak)
	t.line("  beam      %s at 50 %%, %s at 10 %%", s.Beam, s.Field)
	t.line("  symmetry  %s", s.Symmetry)
	if s.Watts > 0 {
		t.line("  draws     %s", s.Watts)
	}
	for _, a := range s.At {
		t.line("  C %s, γ %s: %s", a.C, a.Gamma, a.Intensity)
	}
	return nil
}

// anglePair reads C,G.
func anglePair(text string) (a [2]unit.Degree, err error) {
	bad := fault.Fault{Kind: fault.Call, Path: "--at", Text: "is not a pair of angles", Read: text,
		Allowed: "plane C from 0 to 360 and gamma from 0 to 180, such as 100,47"}
	c, gamma, found := strings.Cut(text, ",")
	if !found || a[0].Parse(c) != nil || a[1].Parse(gamma) != nil || a[0] < 0 || a[0] > 360 || a[1] < 0 || a[1] > 180 {
		return a, bad
	}
	return a, nil
}
