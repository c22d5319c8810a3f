package cli

import (
	"bytes"
	"context"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/spf13/cobra"
)

// Every command's help fits 80 columns, says how it is called, and speaks of options: a flag is a piece of black cloth.
func TestHelpOfEveryCommand(t *testing.T) {
	var out bytes.Buffer
	top := root(&terminal{out: &out, err: &out})
	calls := [][]string{nil}
	var gather func(c *cobra.Command, path []string)
	gather = func(c *cobra.Command, path []string) {
		for _, sub := range c.Commands() {
			call := slices.Concat(path, []string{sub.Name()})
			calls = append(calls, call)
			gather(sub, call)
		}
	}
	gather(top, nil)
	if len(calls) < 8 {
		t.Fatalf("only %d commands are known", len(calls))
	}
	for _, call := range calls {
		code, text, told := run(t, context.Background(), slices.Concat(call, []string{"--help"})...)
		if code != 0 || told != "" || !strings.Contains(text, "Usage:") || !strings.Contains(text, "Options:") {
			t.Errorf("help of %q ends with %d and tells %q", call, code, told)
		}
		if strings.Contains(strings.ToLower(text), "flag") || assurance.MatchString(text) {
			t.Errorf("help of %q speaks of flags, or assures", call)
		}
		for line := range strings.Lines(text) {
			if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > 80 {
				t.Errorf("help of %q has a line of %d columns: %s", call, n, line)
			}
		}
	}
}
