package web_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The lights' colours are drawn as the terminal draws them; a lamp is matched to another light and set so.
func TestALampIsMatched(t *testing.T) {
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
	press("Show the lights' colours")
	w.await(`document.querySelectorAll(".chart").length === 2 && [...document.querySelectorAll(".chart")].every(i => i.complete && i.naturalWidth > 0)`)
	w.run(`(() => { const s = document.querySelectorAll(".match select")[1]; s.value = "at sky seen"; s.dispatchEvent(new Event("change", {bubbles: true})); })()`, nil)
	press("Match")
	w.await(`document.querySelector(".match p b")`)
	var kelvin string
	w.run(`document.querySelector(".match p b").textContent`, &kelvin)
	for _, theme := range []string{"night", "rain", "day"} {
		press(theme)
		w.run(`new Promise(r => setTimeout(r, 200))`, nil)
		w.contrast("colour, " + theme)
		w.axe("colour, " + theme)
	}
	if *shots != "" {
		w.screenshot(filepath.Join(*shots, "colour.png"))
	}
	press("Set key lamp")
	w.await(at(2))
	if text, _ := os.ReadFile(file); !strings.HasSuffix(kelvin, " K") || !strings.Contains(string(text), "dusk: {lamps: {key lamp: {colour: "+kelvin+"}}}") {
		t.Errorf("matched at %q, the file says\n%s", kelvin, text)
	}
	w.blameless(address)
}
