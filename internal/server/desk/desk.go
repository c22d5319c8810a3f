// Package desk holds one open plan: its text, what was done to it, and who changed what.
//
// Everybody who has the plan open makes small edits on the revision they saw. An edit changes the bytes of its fields and
// no others, is merged field by field with what came in between, and is on the disk before it is acknowledged: the plan
// is saved first, then its journal, which lies beside it and serves undo across restarts. What was changed in the file
// from outside is taken in as one more step. Two programs that write the same plan at the same instant are the one case
// that is not guarded: the later one's file stands, and the other sees it as a change from outside.
package desk

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"sync"

	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/plan"
)

// Change sets the value at a path of the plan, or removes what is there.
type Change struct {
	Path  document.Path `json:"path"`
	Value *string       `json:"value,omitempty" doc:"absent: what stands at the path is removed"`
}

// Edit is changes that belong together, made on a revision. Edits of one Group by one person in a row are undone
// together, as the many steps of one drag are.
type Edit struct {
	Base    int      `json:"base" doc:"the revision it was made on"`
	By      string   `json:"by" maxLength:"64" doc:"who made it: one open page"`
	Group   string   `json:"group,omitempty" maxLength:"64" doc:"edits of one group in a row are undone together"`
	Changes []Change `json:"changes" minItems:"1" maxItems:"500"`
}

// State is the plan as it stands.
type State struct {
	Revision int    `json:"revision"`
	Text     string `json:"text"`
	CanUndo  bool   `json:"can_undo"`
	CanRedo  bool   `json:"can_redo"`
	Lost     []Loss `json:"lost" doc:"what conflicting edits overwrote or could not do, the latest last"`
	Note     string `json:"note,omitempty" doc:"what is wrong with the file or its journal, though nothing was refused"`
}

// Desk is one open plan. Its methods may be called from anywhere.
type Desk struct {
	file string
	disk disk

	mu      sync.Mutex
	text    []byte
	history history
	journal journal
	note    string
	changed chan struct{} // closed at the next change
}

// disk is where a desk keeps things; tests put one in its place that fills up.
type disk struct {
	save   func(path string, text []byte) error
	append func(path string, line []byte) error
}

// mostText is the size of the largest plan, in bytes; it is package document's bound.
const mostText = 4 << 20

// Open opens the plan in a file, with its journal if it has one.
func Open(file string) (*Desk, error) {
	return open(file, disk{plan.Save, appendSynced})
}

func open(file string, on disk) (*Desk, error) {
	text, err := readText(file)
	if err != nil {
		return nil, err
	}
	d := &Desk{file: file, disk: on, text: text, changed: make(chan struct{})}
	d.journal.path = filepath.Join(filepath.Dir(file), "."+filepath.Base(file)+".journal")
	known, err := d.journal.read(&d.history)
	switch {
	case err != nil:
		d.note = "the steps made before can't be undone: " + err.Error()
		os.Rename(d.journal.path, d.journal.path+".old") // if that fails too, the note is all there is to say
		d.journal.start(&d.history, text)
	case known == nil:
		d.journal.start(&d.history, text)
	default:
		d.text = known
		d.takeOutside()
	}
	return d, nil
}

// readText reads a plan's text.
func readText(file string) ([]byte, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, unread(file, err)
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, mostText+1))
	if err == nil && len(text) > mostText {
		err = errors.New("it is too big for a plan")
	}
	if err != nil {
		return nil, unread(file, err)
	}
	return text, nil
}

func unread(file string, err error) error {
	var path *os.PathError
	if errors.As(err, &path) {
		err = path.Err
	}
	return fault.Fault{Kind: fault.Unfinished, Place: fault.Place{File: filepath.Base(file)}, Text: "can't read the plan: " + err.Error()}
}

// State returns the plan as it stands, and a channel that is closed when it stands otherwise.
func (d *Desk) State() (State, <-chan struct{}) {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.state(), d.changed
}

func (d *Desk) state() State {
	return State{Revision: d.history.revision(), Text: string(d.text), CanUndo: len(d.history.done) > 0, CanRedo: len(d.history.undone) > 0,
		Lost: d.history.lost(), Note: d.note}
}

// Edit makes the changes of an edit, all or none, merged with what came since its base. What lost is told in the state;
// what could not be done at all is an error that holds faults, and then nothing was changed.
func (d *Desk) Edit(e Edit) (State, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if err := d.lookOutside(); err != nil {
		return State{}, err
	}
	if e.Base < d.history.base || e.Base > d.history.revision() {
		return State{}, fault.Fault{Kind: fault.Call, Text: "the edit was made on a revision that is no longer known", Hint: "look at the plan again"}
	}
	made, err := d.merge(e)
	if err != nil {
		return State{}, err
	}
	if bytes.Equal(made.text, d.text) && len(made.lost) == 0 {
		return d.state(), nil
	}
	r := record{Kind: edited, By: e.By, Group: e.Group, Shifts: made.shifts, Lost: made.lost}
	return d.commit(r, made.text)
}

// Undo takes back the last step, whoever made it.
func (d *Desk) Undo(by string) (State, error) { return d.travel(undone, by, "undo") }

// Redo makes the last step taken back again.
func (d *Desk) Redo(by string) (State, error) { return d.travel(redone, by, "redo") }

func (d *Desk) travel(kind kind, by, word string) (State, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if err := d.takeOutside(); err != nil && !errors.Is(err, os.ErrNotExist) {
		return State{}, err
	}
	text, ok := d.history.travel(kind, d.text)
	if !ok {
		return State{}, fault.Fault{Kind: fault.Call, Text: "there is nothing to " + word}
	}
	return d.commit(record{Kind: kind, By: by}, text)
}

// commit puts a new text on the disk and then in memory. The plan is saved before the journal is written: should
// the program die between the two, the step is found in the file as a change from outside and nothing is lost.
func (d *Desk) commit(r record, text []byte) (State, error) {
	d.note = ""
	if !bytes.Equal(text, d.text) {
		if err := d.disk.save(d.file, text); err != nil {
			if now, _ := readText(d.file); !bytes.Equal(now, text) {
				return State{}, err
			}
			d.note = fault.Of(err, fault.Unfinished)[0].Text
		}
	}
	d.keep(r, text)
	return d.state(), nil
}

// keep books a step whose text is on the disk.
func (d *Desk) keep(r record, text []byte) {
	r.compare(d.text, text)
	r = d.history.add(r)
	d.text = text
	if err := d.journal.write(&d.history, r, d.text, d.disk); err != nil {
		d.note = "saved, but it can't be undone after a restart: " + fault.Of(err, fault.Unfinished)[0].Text
	}
	close(d.changed)
	d.changed = make(chan struct{})
}

// Look takes in what was changed in the file from outside.
func (d *Desk) Look() {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.takeOutside() != nil {
		d.note = "the file is gone or can't be read; the next edit writes it anew"
		close(d.changed)
		d.changed = make(chan struct{})
	}
}

// lookOutside takes in what was changed outside before an edit is made. A text that is not well formed may be half
// written, and an edit of it would write over the other half.
func (d *Desk) lookOutside() error {
	err := d.takeOutside()
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if err == nil {
		_, err = document.Parse(filepath.Base(d.file), d.text)
	}
	return err
}

func (d *Desk) takeOutside() error {
	now, err := readText(d.file)
	if err != nil {
		if _, gone := os.Stat(d.file); gone != nil {
			return gone
		}
		return err
	}
	if !bytes.Equal(now, d.text) {
		d.note = ""
		d.keep(record{Kind: outside}, now)
	}
	return nil
}
