package web_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Ways are looked for, shown beside the plan, and one is taken: all it changes is one step of undo. A search can be cancelled.
func TestAWayIsTaken(t *testing.T) {
	folder := withExample(t, "luthier")
	file := filepath.Join(folder, "luthier.yaml")
	address := served(t, folder)
	w := launch(t).window(1280, 900)
	w.visit(address)
	w.await(`document.querySelector("a[href*='luthier']")`)
	w.run(`document.querySelector("a[href*='luthier']").click()`, nil)
	w.await(settled)
	press := func(words string) {
		t.Helper()
		w.run(`[...document.querySelectorAll("button")].find(b => b.textContent === "`+words+`").click()`, nil)
	}
	w.run(`[...document.querySelectorAll(".tick")].find(l => l.textContent === "ND on the panes").click()`, nil)
	press("Find ways")
	w.await(`document.querySelector(".ways progress")`)
	press("Cancel")
	w.await(`!document.querySelector(".ways progress")`)
	w.run(`[...document.querySelectorAll(".tick")].find(l => l.textContent === "ND on the panes").click()`, nil)
	press("Find ways")
	w.await(`document.querySelector(".card")`)
	var rows [][]string
	w.run(`[...document.querySelectorAll(".ways tbody tr")].map(r => [...r.cells].map(c => c.textContent))`, &rows)
	if len(rows) < 8 || rows[0][0] != "luthier.key side" || rows[4][0] != "least reserve" {
		t.Errorf("side by side: %q", rows)
	}
	before, _ := os.ReadFile(file)
	press("Take way 1")
	w.await(at(2))
	after, _ := os.ReadFile(file)
	if string(before) == string(after) || !strings.Contains(string(after), "dusk: {lamps: {") {
		t.Errorf("taken, the file says\n%s", after)
	}
	if *shots != "" {
		w.screenshot(filepath.Join(*shots, "ways.png"))
	}
	press("Undo")
	w.await(at(3))
	if now, _ := os.ReadFile(file); string(now) != string(before) {
		t.Error("one step of undo does not take it all back")
	}
	w.types(".clocktime", "12:00")
	press("Find ways")
	w.await(`document.querySelector(".ways .fault")`) // until when?
	w.run(`document.querySelectorAll(".clocktime")[1].focus()`, nil)
	w.must("Input.insertText", map[string]any{"text": "14:00"}, nil)
	press("Find ways")
	w.await(`document.querySelector(".card")?.textContent.includes("all that time, luthier.key side")`)
	w.blameless(address)
}
