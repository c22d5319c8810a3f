package web_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A target is dragged on the ladder, set by key, made on a point that had none, turned over another point and removed; the file
// says each.
func TestTargetsAreSetOnTheLadder(t *testing.T) {
	folder := withExample(t, "luthier")
	file := filepath.Join(folder, "luthier.yaml")
	address := served(t, folder)
	w := launch(t).window(1280, 900)
	w.visit(address)
	w.await(`document.querySelector("a[href*='luthier']")`)
	w.run(`document.querySelector("a[href*='luthier']").click()`, nil)
	w.await(settled)
	const told = `!localStorage.getItem("gloam.unsent.luthier.yaml") && document.querySelector("table[data-revision]").dataset.revision ===
		[...document.querySelectorAll(".block .cell")].find(c => c.textContent.startsWith("Revision")).querySelector("b").textContent`
	says := func(text string, want bool) {
		t.Helper()
		w.await(told)
		if got, _ := os.ReadFile(file); strings.Contains(string(got), text) != want {
			t.Errorf("%q in the file is %t, want %t:\n%s", text, !want, want, got)
		}
	}
	const bracket = `document.querySelector("[aria-label='luthier.shadow side, wanted']")`
	var at struct{ X, Y, Rung float64 }
	w.run(`(() => { const b = `+bracket+`.querySelector("path").getBoundingClientRect(), m = `+bracket+`.ownerSVGElement.getScreenCTM();
		return {X: b.x + b.width / 2, Y: b.y + b.height / 2, Rung: 44 * m.a}; })()`, &at)
	mouse := func(kind string, x, y float64) {
		w.must("Input.dispatchMouseEvent", map[string]any{"type": kind, "x": x, "y": y, "button": "left", "buttons": 1, "clickCount": 1}, nil)
	}
	mouse("mousePressed", at.X, at.Y)
	mouse("mouseMoved", at.X, at.Y-at.Rung/2)
	mouse("mouseMoved", at.X, at.Y-at.Rung)
	mouse("mouseReleased", at.X, at.Y-at.Rung)
	w.await(bracket + `.getAttribute("aria-valuetext").startsWith("-2 stops")`)
	w.await(`document.querySelector("input[aria-label='luthier.shadow side, wanted']")?.value === "−2"`)
	if got, _ := os.ReadFile(file); !strings.Contains(string(got), "{point: luthier.shadow side, level: -2}") {
		t.Errorf("dragged up a stop, the file says\n%s", got)
	}
	w.await(told)
	key := func(label, name string) {
		t.Helper()
		w.run(fmt.Sprintf(`document.querySelector("[aria-label='%s']").dispatchEvent(new KeyboardEvent("keydown", {key: "%s", bubbles: true}))`, label, name), nil)
	}
	key("luthier.shadow side, wanted", "ArrowDown")
	says("{point: luthier.shadow side, level: -2 1/3}", true)
	key("luthier.shadow side, upper end of the tolerance", "ArrowUp")
	says("{point: luthier.shadow side, level: -2 1/3, tolerance: 1/2}", true)
	key("luthier.shadow side, wanted", "Delete")
	says("luthier.shadow side, level", false)
	w.await(`[...document.querySelectorAll(".wish button")].some(b => b.textContent === "Want this level")`)
	w.run(`[...document.querySelectorAll(".wish button")].find(b => b.textContent === "Want this level").click()`, nil)
	says("- point: luthier.shadow side\n    level: ", true)
	w.await(`document.querySelector(".onewish select")`)
	w.run(`(() => { const s = document.querySelector(".onewish select"); s.value = "luthier.key side"; s.dispatchEvent(new Event("change", {bubbles: true})); })()`, nil)
	says("over: luthier.key side", true)
	w.run(`(() => { const s = document.querySelector("[aria-label='luthier.shadow side, bound']"); s.value = "at most"; s.dispatchEvent(new Event("change", {bubbles: true})); })()`, nil)
	says("bound: at most", true)
	w.run(`[...document.querySelectorAll(".wish button")].find(b => b.textContent === "Want this colour").click()`, nil)
	says("mired: 9", true) // of the light as it is, warm of the balance
	w.await(`document.querySelector("input[aria-label='luthier.shadow side, wanted mired']")`)
	w.await(`[...document.querySelectorAll(".onewish small")].some(s => s.textContent === "met")`)
	w.blameless(address)
}
