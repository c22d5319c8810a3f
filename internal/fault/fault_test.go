package fault

import (
	"errors"
	"fmt"
	"testing"
)

func TestErrorSaysPlaceReadAllowedHint(t *testing.T) {
	f := Fault{Place: Place{"plan.yaml", 14, 12}, Path: "lamps.key.dim", Text: "140 % is above 100 %", Read: "140 %",
		Allowed: "a share such as 60 %", Hint: `did you mean "40 %"?`}
	want := `plan.yaml:14:12: lamps.key.dim: 140 % is above 100 %; read "140 %"; allowed: a share such as 60 %; did you mean "40 %"?`
	if f.Error() != want {
		t.Errorf("%s\nwant %s", f.Error(), want)
	}
	if got := (Fault{Text: "is missing"}).Error(); got != "is missing" {
		t.Errorf("nowhere: %q", got)
	}
}

func TestCodeIsTheGravest(t *testing.T) {
	for _, row := range []struct {
		name string
		err  error
		code int
	}{
		{"none", nil, 0},
		{"a note", List{{Kind: Note}}, 0},
		{"input", List{{Kind: Note}, {Kind: Input}}, 1},
		{"call over input", List{{Kind: Input}, {Kind: Call}}, 2},
		{"unfinished over all", List{{Kind: Unfinished}, {Kind: Call}}, 4},
		{"one, wrapped", fmt.Errorf("while reading: %w", Fault{Kind: Call}), 2},
		{"another's error", errors.New("disk"), 1},
	} {
		if got := Code(row.err); got != row.code {
			t.Errorf("%s: %d, want %d", row.name, got, row.code)
		}
	}
}

func TestErrOfNotesAloneIsNone(t *testing.T) {
	if err := (List{{Kind: Note, Text: "worth knowing"}}).Err(); err != nil {
		t.Errorf("a note stops: %v", err)
	}
	if err := (List{{Kind: Note}, {Text: "wrong"}}).Err(); err == nil {
		t.Error("a fault beside a note stops nothing")
	}
}

func TestNearestName(t *testing.T) {
	names := []string{"height", "aim", "B12-D26", "key frame"}
	for read, want := range map[string]string{"heigth": "height", "b12-d62": "B12-D26", "keyframe": "key frame", "zoom": "", "ai": "aim"} {
		if got := Nearest(read, names); got != want {
			t.Errorf("%q: %q, want %q", read, got, want)
		}
	}
}

func TestSortKeepsFileOrder(t *testing.T) {
	l := List{{Place: Place{"b", 1, 1}}, {Place: Place{"a", 2, 1}}, {Place: Place{"a", 1, 9}}, {Place: Place{"a", 1, 2}, Text: "first"}, {Place: Place{"a", 1, 2}, Text: "second"}}
	l.Sort()
	got := ""
	for _, f := range l {
		got += f.Place.String() + f.Text + " "
	}
	if want := "a:1:2first a:1:2second a:1:9 a:2:1 b:1:1 "; got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
}
