package desk

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"pgregory.net/rapid"

	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/plan"
)

const sample = `gloam: 1
title: A table by the window   # said so
set: {rooms: {room: {size: 4 x 3 x 2.5 m}}}

lamps:
  key: {kit: B12-D26, at: 1 1 2, aim: table, dim: 60 %}   # warm
  fill:
    kit: B3-D55
    at: 3 1 2
    aim: table
points:
  table: {at: 2 2 0.8}
targets:
  - {point: table, level: 0}
  - {point: table, level: -3, over: ambient}
  - {point: table, level: +1, tolerance: 1/2}
`

// laid lays a plan into a folder of its own.
func laid(t *testing.T) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "table.yaml")
	if err := os.WriteFile(file, []byte(sample), 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

func opened(t *testing.T, file string) *Desk {
	t.Helper()
	d, err := Open(file)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func set(path, value string) Change { return Change{document.Path(path), &value} }

func cut(path string) Change { return Change{document.Path(path), nil} }

func mustEdit(t *testing.T, d *Desk, by string, base int, changes ...Change) State {
	t.Helper()
	s, err := d.Edit(Edit{Base: base, By: by, Changes: changes})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func onDisk(t *testing.T, file string) string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func TestAnEditChangesItsFieldAlone(t *testing.T) {
	file := laid(t)
	s := mustEdit(t, opened(t, file), "a", 1, set("lamps.key.dim", "40 %"))
	want := strings.Replace(sample, "60 %", "40 %", 1)
	if s.Text != want || onDisk(t, file) != want {
		t.Errorf("the plan is\n%s\nwant\n%s", s.Text, want)
	}
	if s.Revision != 2 || !s.CanUndo || s.CanRedo {
		t.Errorf("state %+v", s)
	}
}

func TestChangesOfAnEditAreAllMadeOrNone(t *testing.T) {
	file := laid(t)
	_, err := opened(t, file).Edit(Edit{Base: 1, Changes: []Change{set("lamps.key.dim", "40 %"), set("lamps", "none")}})
	if err == nil {
		t.Error("a value took the place of all lamps")
	}
	if onDisk(t, file) != sample {
		t.Errorf("half an edit was made:\n%s", onDisk(t, file))
	}
}

// Two people edit from revision 1; the second one's edit arrives after the first one's.
func TestConflictingEditsMergeFieldByField(t *testing.T) {
	cases := []struct {
		name          string
		first, second Change
		has, hasNot   string // of the text in the end
		lost          string // value lost; "" for no conflict
	}{
		{"different fields of one lamp", set("lamps.key.dim", "40 %"), set("lamps.key.colour", "3200 K"), "dim: 40 %, colour: 3200 K", "", ""},
		{"the same field: the later one stands", set("lamps.key.dim", "40 %"), set("lamps.key.dim", "30 %"), "dim: 30 %", "40 %", "40 %"},
		{"the same field, the same value", set("lamps.key.dim", "40 %"), set("lamps.key.dim", "40 %"), "dim: 40 %", "60 %", ""},
		{"a field of a lamp that is gone", cut("lamps.key"), set("lamps.key.dim", "30 %"), "fill", "30 %", "30 %"},
		{"a lamp whose field was set", set("lamps.key.dim", "40 %"), cut("lamps.key"), "fill", "key:", "what stood in it"},
		{"both remove a lamp", cut("lamps.key"), cut("lamps.key"), "fill", "key:", ""},
		{"an item below one that went", cut("targets[0]"), set("targets[2].level", "+2"), "level: +2, tolerance", "level: 0", ""},
		{"an item that went", cut("targets[1]"), set("targets[1].level", "+2"), "level: +1", "+2", "+2"},
		{"an item above one that went", cut("targets[2]"), set("targets[0].level", "+2"), "level: +2", "+1", ""},
		{"both add an item", set("targets[3].point", "first"), set("targets[3].point", "second"), "- point: first\n  - point: second", "", ""},
		{"one sets the field that one removed", cut("lamps.key.dim"), set("lamps.key.dim", "30 %"), "dim: 30 %", "", "its removal"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			d := opened(t, laid(t))
			mustEdit(t, d, "a", 1, c.first)
			s := mustEdit(t, d, "b", 1, c.second)
			if !strings.Contains(s.Text, c.has) || c.hasNot != "" && strings.Contains(s.Text, c.hasNot) {
				t.Errorf("want %q and not %q in\n%s", c.has, c.hasNot, s.Text)
			}
			switch {
			case c.lost == "" && len(s.Lost) > 0:
				t.Errorf("lost %+v, want nothing", s.Lost)
			case c.lost != "" && (len(s.Lost) != 1 || s.Lost[0].Lost != c.lost):
				t.Errorf("lost %+v, want %q", s.Lost, c.lost)
			}
			if got := onDisk(t, d.file); got != s.Text {
				t.Errorf("the disk holds\n%s", got)
			}
		})
	}
}

func TestOnesOwnEditsAreNoConflict(t *testing.T) {
	d := opened(t, laid(t))
	mustEdit(t, d, "a", 1, set("lamps.key.dim", "40 %"))
	s := mustEdit(t, d, "a", 1, set("lamps.key.dim", "30 %")) // sent before the first was acknowledged
	if len(s.Lost) > 0 || !strings.Contains(s.Text, "30 %") {
		t.Errorf("lost %+v in\n%s", s.Lost, s.Text)
	}
}

func TestAnEditOnAnUnknownRevisionIsRefused(t *testing.T) {
	d := opened(t, laid(t))
	for _, base := range []int{0, -3, 2, 99} {
		if _, err := d.Edit(Edit{Base: base, Changes: []Change{set("title", "x")}}); err == nil {
			t.Errorf("base %d was taken", base)
		}
	}
}

func TestUndoAndRedoSurviveARestart(t *testing.T) {
	file := laid(t)
	d := opened(t, file)
	one := mustEdit(t, d, "a", 1, set("lamps.key.dim", "40 %"))
	two := mustEdit(t, d, "b", 2, set("title", "Two"))
	travel := func(do func(*Desk) (State, error), want string) State {
		t.Helper()
		s, err := do(opened(t, file)) // every step in a new program
		if err != nil {
			t.Fatal(err)
		}
		if s.Text != want || onDisk(t, file) != want {
			t.Fatalf("the plan is\n%s\nwant\n%s", s.Text, want)
		}
		return s
	}
	undo := func(d *Desk) (State, error) { return d.Undo("a") }
	redo := func(d *Desk) (State, error) { return d.Redo("a") }
	travel(undo, one.Text)
	s := travel(undo, sample)
	if s.CanUndo || !s.CanRedo || s.Revision != 5 {
		t.Errorf("state %+v", s)
	}
	if _, err := opened(t, file).Undo("a"); err == nil {
		t.Error("undid more than there was")
	}
	travel(redo, one.Text)
	travel(redo, two.Text)
	travel(undo, one.Text)
	s = mustEdit(t, opened(t, file), "a", 8, set("title", "Three"))
	if s.CanRedo {
		t.Error("after a new edit something can be redone")
	}
	if len(s.Lost) != 0 {
		t.Errorf("lost %+v", s.Lost)
	}
}

func TestADragIsUndoneAtOnce(t *testing.T) {
	file := laid(t)
	d := opened(t, file)
	for i, at := range []string{"1 1.1 2", "1 1.2 2", "1 1.3 2"} {
		if _, err := d.Edit(Edit{Base: i + 1, By: "a", Group: "drag 1", Changes: []Change{set("lamps.key.at", at)}}); err != nil {
			t.Fatal(err)
		}
	}
	s, err := opened(t, file).Undo("a")
	if err != nil || s.Text != sample {
		t.Errorf("%v; the plan is\n%s", err, s.Text)
	}
}

func TestAChangeFromOutsideIsAStep(t *testing.T) {
	file := laid(t)
	d := opened(t, file)
	state, changed := d.State()
	byHand := strings.Replace(sample, "B3-D55", "B3-D80", 1)
	if err := os.WriteFile(file, []byte(byHand), 0o644); err != nil {
		t.Fatal(err)
	}
	d.Look()
	select {
	case <-changed:
	default:
		t.Error("nobody was told")
	}
	s := mustEdit(t, d, "a", state.Revision, set("lamps.key.dim", "40 %"))
	want := strings.Replace(byHand, "60 %", "40 %", 1)
	if s.Text != want || s.Revision != 3 {
		t.Errorf("revision %d is\n%s", s.Revision, s.Text)
	}
	d.Undo("a")
	if s, err := d.Undo("a"); err != nil || s.Text != sample {
		t.Errorf("%v; both undone, the plan is\n%s", err, s.Text)
	}
}

func TestAConflictWithOutsideIsTold(t *testing.T) {
	file := laid(t)
	d := opened(t, file)
	byHand := strings.Replace(sample, "60 %", "50 %", 1)
	os.WriteFile(file, []byte(byHand), 0o644) // and the watcher has not told it yet
	s := mustEdit(t, d, "a", 1, set("lamps.key.dim", "40 %"))
	if len(s.Lost) != 1 || s.Lost[0].Lost != "50 %" || s.Lost[0].Kept != "40 %" {
		t.Errorf("lost %+v", s.Lost)
	}
}

func TestABrokenTextIsNotWrittenOver(t *testing.T) {
	file := laid(t)
	d := opened(t, file)
	os.WriteFile(file, []byte("gloam: 1\nlamps: {key: {dim:"), 0o644)
	if _, err := d.Edit(Edit{Base: 1, By: "a", Changes: []Change{set("title", "x")}}); err == nil {
		t.Error("a text that is not well formed was edited")
	}
	if got := onDisk(t, file); got != "gloam: 1\nlamps: {key: {dim:" {
		t.Errorf("the disk holds %q", got)
	}
	if s, err := d.Undo("a"); err != nil || s.Text != sample {
		t.Errorf("%v; the plan is\n%s", err, s.Text)
	}
}

// A disk that refuses the plan changes nothing; one that refuses the journal alone costs the undo after a restart, and
// the next step brings it back.
func TestAFullDisk(t *testing.T) {
	file := laid(t)
	full := fault.Fault{Kind: fault.Unfinished, Text: "not saved: the disk is full"}
	refusePlan, refuseJournal := false, false
	save := func(path string, text []byte) error {
		if refusePlan && path == file || refuseJournal && path != file {
			return full
		}
		return plan.Save(path, text)
	}
	add := func(path string, line []byte) error {
		if refuseJournal {
			return syscall.ENOSPC
		}
		return appendSynced(path, line)
	}
	d, err := open(file, disk{save, add})
	if err != nil {
		t.Fatal(err)
	}
	one := mustEdit(t, d, "a", 1, set("title", "One"))
	refusePlan = true
	if _, err := d.Edit(Edit{Base: 2, By: "a", Changes: []Change{set("title", "Two")}}); !errors.Is(err, error(full)) {
		t.Errorf("error %v, want the disk's", err)
	}
	if s, _ := d.State(); s.Text != one.Text || s.Revision != 2 || onDisk(t, file) != one.Text {
		t.Errorf("a refused edit left revision %d\n%s", s.Revision, s.Text)
	}
	refusePlan, refuseJournal = false, true
	if s := mustEdit(t, d, "a", 2, set("title", "Three")); s.Note == "" || onDisk(t, file) != s.Text {
		t.Errorf("note %q, disk\n%s", s.Note, onDisk(t, file))
	}
	refuseJournal = false
	if s := mustEdit(t, d, "a", 3, set("title", "Four")); s.Note != "" {
		t.Errorf("note %q", s.Note)
	}
	again := opened(t, file)
	for range 3 {
		if _, err := again.Undo("a"); err != nil {
			t.Fatal(err)
		}
	}
	if got := onDisk(t, file); got != sample {
		t.Errorf("all undone, the disk holds\n%s", got)
	}
}

func TestWhatACrashLeaves(t *testing.T) {
	later := strings.Replace(sample, "60 %", "40 %", 1)
	cases := []struct {
		name  string
		crash func(file, journal string)
		undo  string // the text after an undo; "" for none
	}{
		{"saved, not yet in the journal", func(file, _ string) {
			os.WriteFile(file, []byte(strings.Replace(later, "40 %", "30 %", 1)), 0o644)
		}, later},
		{"half a line in the journal", func(_, journal string) {
			text, _ := os.ReadFile(journal)
			os.WriteFile(journal, append(text, "01234567 {\"revision\":3,\"spl"...), 0o644)
		}, sample},
		{"a journal cut off within its last line", func(_, journal string) {
			text, _ := os.ReadFile(journal)
			os.WriteFile(journal, text[:len(text)-5], 0o644)
		}, sample},
		{"a byte of the journal flipped", func(_, journal string) {
			text, _ := os.ReadFile(journal)
			text[20] ^= 1
			os.WriteFile(journal, text, 0o644)
		}, ""},
		{"no journal", func(_, journal string) { os.Remove(journal) }, ""},
		{"an empty journal", func(_, journal string) { os.Truncate(journal, 0) }, ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			file := laid(t)
			d := opened(t, file)
			mustEdit(t, d, "a", 1, set("lamps.key.dim", "40 %"))
			c.crash(file, d.journal.path)
			held := onDisk(t, file)
			again := opened(t, file)
			s, _ := again.State()
			if s.Text != held || onDisk(t, file) != held {
				t.Errorf("opening changed the plan to\n%s", s.Text)
			}
			if s.CanUndo != (c.undo != "") {
				t.Fatalf("can undo: %v", s.CanUndo)
			}
			if c.undo == "" {
				return
			}
			if s, err := again.Undo("a"); err != nil || s.Text != c.undo {
				t.Errorf("%v; undone, the plan is\n%s", err, s.Text)
			}
		})
	}
}

// Whatever is done, by whom and with how many restarts: the disk holds the text, and undoing all leads back to the start.
func TestAnyHistoryLeadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		folder, err := os.MkdirTemp("", "desk")
		if err != nil {
			t.Fatal(err)
		}
		defer os.RemoveAll(folder)
		file := filepath.Join(folder, "plan.yaml")
		os.WriteFile(file, []byte(sample), 0o644)
		d, err := Open(file)
		if err != nil {
			t.Fatal(err)
		}
		for range rapid.IntRange(1, 12).Draw(t, "steps") {
			s, _ := d.State()
			switch rapid.IntRange(0, 5).Draw(t, "do") {
			case 0:
				d.Undo("a")
			case 1:
				d.Redo("b")
			case 2:
				if d, err = Open(file); err != nil {
					t.Fatal(err)
				}
			case 3:
				os.WriteFile(file, []byte(s.Text+"# by hand\n"), 0o644)
			default:
				path := rapid.SampledFrom([]string{"title", "lamps.key.dim", "lamps.fill.dim", "note", "targets[1].level"}).Draw(t, "path")
				value := rapid.SampledFrom([]string{"1", "50 %", "a: b # c", "*x", ""}).Draw(t, "value")
				base := rapid.IntRange(max(1, s.Revision-3), s.Revision).Draw(t, "base")
				d.Edit(Edit{Base: base, By: rapid.SampledFrom([]string{"a", "b"}).Draw(t, "by"),
					Group: rapid.SampledFrom([]string{"", "g"}).Draw(t, "group"), Changes: []Change{set(path, value)}})
			}
			d.Look()
			s, _ = d.State()
			if held, _ := os.ReadFile(file); string(held) != s.Text {
				t.Fatalf("the disk holds\n%s\nand the desk\n%s", held, s.Text)
			}
		}
		for {
			if s, _ := d.State(); !s.CanUndo {
				break
			}
			if _, err := d.Undo("a"); err != nil {
				t.Fatal(err)
			}
		}
		if s, _ := d.State(); s.Text != sample {
			t.Fatalf("all undone, the plan is\n%s", s.Text)
		}
	})
}

func TestALongHistoryIsCutAndStillUndone(t *testing.T) {
	file := laid(t)
	on := disk{func(path string, text []byte) error { return os.WriteFile(path, text, 0o644) }, // no sync: thousands of steps
		func(path string, line []byte) error {
			f, err := os.OpenFile(path, os.O_APPEND|os.O_WRONLY, 0)
			if err == nil {
				_, err = f.Write(line)
				f.Close()
			}
			return err
		}}
	d, err := open(file, on)
	if err != nil {
		t.Fatal(err)
	}
	for i := range mostRecords + 10 {
		if _, err := d.Edit(Edit{Base: i + 1, By: "a", Changes: []Change{set("title", strings.Repeat("x", 1+i%7))}}); err != nil {
			t.Fatal(err)
		}
	}
	again, err := open(file, on)
	if err != nil {
		t.Fatal(err)
	}
	s, _ := again.State()
	if s.Revision != mostRecords+11 || len(again.history.records) > mostRecords {
		t.Errorf("revision %d, %d steps kept", s.Revision, len(again.history.records))
	}
	if s, err = again.Undo("a"); err != nil || !strings.Contains(s.Text, "title: "+strings.Repeat("x", 1+(mostRecords+8)%7)+" ") {
		t.Errorf("%v; the step before the last had another title:\n%s", err, s.Text)
	}
}

func FuzzJournal(f *testing.F) {
	h := history{base: 1}
	r := record{Kind: edited, Splice: splice{0, []byte("a"), []byte("b")}}
	f.Add(append(lineOf(head{1, 1, []byte("a")}), lineOf(h.add(r))...))
	f.Add([]byte("00000000 {}\n"))
	f.Add([]byte(nil))
	f.Fuzz(func(t *testing.T, text []byte) {
		path := filepath.Join(t.TempDir(), "j")
		os.WriteFile(path, text, 0o644)
		j := journal{path: path}
		var h history
		if _, err := j.read(&h); err == nil {
			h.travel(undone, nil)
		}
	})
}

func FuzzSteps(f *testing.F) {
	for _, p := range []string{"a.b", `a."b.c"[2]`, "a[0][1]", ".", "a..b", "a[", `a."`} {
		f.Add(p)
	}
	f.Fuzz(func(t *testing.T, p string) {
		way, err := steps(document.Path(p))
		if err != nil {
			return
		}
		again, err := steps(join(way))
		if err != nil || join(again) != join(way) {
			t.Errorf("%q becomes %q and then %v", p, join(way), err)
		}
	})
}
