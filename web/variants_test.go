package web_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A set-up is kept under another name with its dims as they stand, compared with the rest, shown and removed; it outlives a reload.
func TestAVariantIsKept(t *testing.T) {
	folder := withExample(t, "luthier")
	file := filepath.Join(folder, "luthier.yaml")
	address := served(t, folder)
	w := launch(t).window(1280, 900)
	w.visit(address)
	w.await(`document.querySelector("a[href*='luthier']")`)
	w.run(`document.querySelector("a[href*='luthier']").click()`, nil)
	w.await(settled)
	w.run(`(() => { const i = document.querySelector(".variants input"); i.focus(); document.execCommand("insertText", false, "as metered: B"); })()`, nil)
	w.await(`!document.querySelector(".variants button").disabled`)
	w.run(`document.querySelector(".variants button").click()`, nil)
	w.await(at(2))
	text, _ := os.ReadFile(file)
	if !strings.Contains(string(text), "as metered: B") || strings.Count(string(text), "dim: 36 %") != 2 {
		t.Fatalf("kept, the file says\n%s", text)
	}
	w.run(`[...document.querySelectorAll(".variants button")].find(b => b.textContent === "Side by side").click()`, nil)
	w.await(`document.querySelector(".variants table")`)
	var row, takes []string
	w.run(`[...[...document.querySelectorAll(".variants tbody tr")].find(r => r.cells[0].textContent === "luthier.key side").cells].map(c => c.textContent)`, &row)
	w.run(`[...[...document.querySelectorAll(".variants tbody tr")].find(r => r.cells[0].textContent === "current").cells].map(c => c.textContent)`, &takes)
	if last := len(row) - 1; row[last] != row[1]+"same" || takes[last] != takes[1] {
		t.Errorf("of itself the variant differs: %q, %q", row, takes)
	}
	w.contrast("variants")
	w.axe("variants")
	if *shots != "" {
		w.screenshot(filepath.Join(*shots, "variants.png"))
	}
	w.run(`document.querySelector("[aria-label='show as metered: B']").click()`, nil)
	w.await(`document.querySelector(".setups select")?.value === "as metered: B" && ` + settled)
	w.run(`[...document.querySelectorAll(".variants button")].find(b => b.textContent === "Side by side").click()`, nil)
	w.await(`document.querySelector("[aria-label='remove ND 0.9']")`)
	w.run(`document.querySelector("[aria-label='remove ND 0.9']").click()`, nil)
	w.await(`![...document.querySelectorAll(".setups option")].some(o => o.textContent === "ND 0.9")`)
	w.blameless(address)
}
