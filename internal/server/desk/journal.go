package desk

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"slices"
	"strconv"
)

// The journal is a text of lines, each a checksum (CRC-32, IEEE, 8 hexadecimal digits), a blank and a JSON value: first
// the head, which holds a whole text, then one record a step. A torn last line, as a crash leaves it, is no line.
//
// Nothing but undo hangs on it: a plan is whole without its journal.

const journalVersion = 1

// Bounds of a journal: above them its older half is cut off.
const (
	mostRecords = 1000
	mostJournal = 32 << 20 // bytes
)

type head struct {
	Version  int    `json:"gloam_journal"`
	Revision int    `json:"revision"`
	Text     []byte `json:"text"`
}

type journal struct {
	path string
	base []byte // the head's text
	size int    // bytes in the file; 0: to be written anew
}

// read fills a history from the file and returns the text it ends with; nil where there is no journal.
func (j *journal) read(h *history) ([]byte, error) {
	f, err := os.Open(j.path)
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, errors.New("their journal can't be opened")
	}
	defer f.Close()
	all, err := io.ReadAll(io.LimitReader(f, 2*mostJournal))
	if err != nil {
		return nil, errors.New("their journal can't be read")
	}
	line, rest := nextLine(all)
	var first head
	if line == nil || json.Unmarshal(line, &first) != nil {
		return nil, errors.New("their journal is damaged")
	}
	if first.Version != journalVersion {
		return nil, errors.New("their journal is of another version of this program")
	}
	j.base = first.Text
	h.base = first.Revision
	return j.replay(h, rest, len(all)-len(rest)), nil
}

// replay takes the lines one after the other, up to the first that does not fit.
func (j *journal) replay(h *history, rest []byte, size int) []byte {
	text := j.base
	for len(rest) > 0 {
		line, after := nextLine(rest)
		var r record
		if line == nil || json.Unmarshal(line, &r) != nil || r.Revision != h.revision()+1 {
			size = 0 // what cannot be used is left out when the next step is written
			break
		}
		next, fits := r.Splice.apply(text)
		if !fits {
			size = 0
			break
		}
		size += len(rest) - len(after)
		text, rest = next, after
		h.add(r)
	}
	j.size = size
	return text
}

// nextLine returns the JSON of the first line, nil where it is torn or damaged, and what follows it.
func nextLine(text []byte) (line, rest []byte) {
	line, rest, ended := bytes.Cut(text, []byte("\n"))
	if !ended || len(line) < 10 || line[8] != ' ' {
		return nil, nil
	}
	sum, err := strconv.ParseUint(string(line[:8]), 16, 32)
	if err != nil || crc32.ChecksumIEEE(line[9:]) != uint32(sum) {
		return nil, nil
	}
	return line[9:], rest
}

func lineOf(v any) []byte {
	text, err := json.Marshal(v)
	if err != nil {
		panic("desk: a journal's line has no JSON")
	}
	return fmt.Appendf(nil, "%08x %s\n", crc32.ChecksumIEEE(text), text)
}

// start begins a history at a text.
func (j *journal) start(h *history, text []byte) {
	*h = history{base: 1}
	j.base, j.size = text, 0
}

// write puts a step on the disk: as a line at the end, or with all others where the file is to be written anew.
func (j *journal) write(h *history, r record, text []byte, on disk) error {
	line := lineOf(r)
	if j.size > 0 && j.size+len(line) <= mostJournal && len(h.records) <= mostRecords {
		if err := on.append(j.path, line); err != nil {
			j.size = 0
			return err
		}
		j.size += len(line)
		return nil
	}
	if len(h.records) > mostRecords || j.weight(h) > mostJournal {
		j.cut(h)
	}
	whole := lineOf(head{journalVersion, h.base, j.base})
	for i := range h.records {
		whole = append(whole, lineOf(h.records[i])...)
	}
	if err := on.save(j.path, whole); err != nil {
		return err
	}
	j.size = len(whole)
	return nil
}

// weight is about how many bytes the journal would have.
func (j *journal) weight(h *history) int {
	weight := len(j.base)
	for i := range h.records {
		weight += len(h.records[i].Splice.In) + len(h.records[i].Splice.Out)
	}
	return weight * 4 / 3
}

// cut drops the older half of the steps, but never the first part of a group alone.
func (j *journal) cut(h *history) {
	n := len(h.records) / 2
	for n < len(h.records)-1 && h.records[n].Group != "" && h.records[n].Group == h.records[n-1].Group {
		n++
	}
	for _, r := range h.records[:n] {
		text, fits := r.Splice.apply(j.base)
		if !fits {
			panic("desk: a step does not fit the text it was made on")
		}
		j.base = text
	}
	kept := slices.Clone(h.records[n:])
	*h = history{base: h.base + n}
	for _, r := range kept {
		h.add(r)
	}
}

// appendSynced adds a line to a file and waits until the disk has it. A line that was written in part is torn, and ends
// the journal when it is read.
func appendSynced(path string, line []byte) error {
	f, err := os.OpenFile(path, os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	_, err = f.Write(line)
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}
