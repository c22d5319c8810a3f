package web_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// turned is a plan whose +y is not north, with a person and a cloth.
const turned = `gloam: 1
title: A turned yard
set: {north: 30}
camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8}
people:
  ann: {at: 2 2, faces: 30 deg, key: left}
cloths:
  muslin: {kind: unbleached muslin, size: 2 x 2 m, at: -1 1 1.5, faces: 30 deg 10 deg down}
lamps:
  key: {kit: B12-D26, at: 0 5 2, aim: ann, dim: 60 %}
`

// A person and a cloth are dragged, turned, nudged and told a number; each way is one step of undo.
func TestPeopleAndClothsAreTakenByHand(t *testing.T) {
	folder := t.TempDir()
	file := filepath.Join(folder, "yard.yaml")
	if err := os.WriteFile(file, []byte(turned), 0o644); err != nil {
		t.Fatal(err)
	}
	address := served(t, folder)
	w := launch(t).window(1280, 900)
	w.visit(address)
	w.await(`document.querySelector("a[href*='yard']")`)
	w.run(`document.querySelector("a[href*='yard']").click()`, nil)
	w.await(at(1))
	saved := func() string {
		t.Helper()
		w.await(`!localStorage.getItem("gloam.unsent.yard.yaml")`)
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	undo := func(what string) {
		t.Helper()
		w.run(`[...document.querySelectorAll("button")].find(b => b.textContent === "Undo").click()`, nil)
		w.await(`document.querySelector(".tools button:disabled")?.textContent === "Undo"`)
		if text := saved(); text != turned {
			t.Errorf("%s: after one undo the file is\n%s", what, text)
		}
		w.await(settled)
	}
	for _, drag := range []struct {
		name, shape string
		dx, dy      float64 // m, as the plan counts
		want        string  // what the file says, the numbers being measured
		numbers     []float64
	}{
		{"ann, move", ".person", 0.8, -0.5, `ann: {at: (\S+) (\S+), faces: 30 deg`, []float64{2.8, 1.5}},
		{"muslin, move", ".cloth", -0.6, 0.4, `muslin: {.*at: (\S+) (\S+) 1.50, faces: 30 deg 10 deg down`, []float64{-1.6, 1.4}},
	} {
		w.drag(drag.name, drag.shape, drag.dx, drag.dy)
		w.await(`!document.querySelector(".tools button:disabled")?.textContent.includes("Undo")`)
		text := saved()
		found := regexp.MustCompile(drag.want).FindStringSubmatch(text)
		if found == nil {
			t.Fatalf("%s: the file says\n%s", drag.name, text)
		}
		for i, want := range drag.numbers {
			if got, err := strconv.ParseFloat(found[i+1], 64); err != nil || math.Abs(got-want) > 0.03 { // a pixel is about a centimetre here
				t.Errorf("%s: %s, want %.2f", drag.name, found[i+1], want)
			}
		}
		undo(drag.name)
	}
	// Each looks along +y; dragged as far to the right as the handle is long, they look 45° clockwise of that: bearing 75°.
	for name, want := range map[string]string{"ann": "faces: 75 deg,", "muslin": "faces: 75 deg 10.0 deg down"} {
		var long float64
		w.run(fmt.Sprintf(`(() => { const l = document.querySelector("[aria-label='%s, turn']").parentElement.querySelector("line"); return Math.hypot(l.x2.baseVal.value - l.x1.baseVal.value, l.y2.baseVal.value - l.y1.baseVal.value); })()`, name), &long)
		w.drag(name+", turn", ".empty", long, 0)
		w.await(`!document.querySelector(".tools button:disabled")?.textContent.includes("Undo")`)
		if text := saved(); !strings.Contains(text, want) {
			t.Errorf("%s was turned; the file says\n%s", name, text)
		}
		undo(name + ", turn")
	}
	for key, want := range map[string]string{"ann, move": "at: 2.10 2.00", "muslin, turn": "faces: 35 deg 10.0 deg down"} {
		w.run(fmt.Sprintf(`(() => { const e = document.querySelector("[aria-label='%s']"); e.focus(); e.dispatchEvent(new KeyboardEvent("keydown", {key: "ArrowRight", bubbles: true})); })()`, key), nil)
		w.await(`!document.querySelector(".tools button:disabled")?.textContent.includes("Undo")`)
		if text := saved(); !strings.Contains(text, want) {
			t.Errorf("%s by key; the file says\n%s", key, text)
		}
		undo(key + " by key")
	}
	w.run(`document.querySelector("[aria-label='muslin, move']").focus()`, nil)
	w.await(`document.querySelector("input[aria-label='muslin, at']")`)
	w.run(`(() => { const i = document.querySelector("input[aria-label='muslin, at']"); i.focus(); i.select(); document.execCommand("insertText", false, "8 ft 3 ft 5 ft"); i.blur(); })()`, nil)
	w.await(`!document.querySelector(".tools button:disabled")?.textContent.includes("Undo")`)
	if text := saved(); !strings.Contains(text, "at: 8 ft 3 ft 5 ft") {
		t.Errorf("a typed place; the file says\n%s", text)
	}
	w.await(`document.querySelector(".groundplan") && ` + settled)
	for _, theme := range []string{"day", "night", "rain"} {
		w.run(fmt.Sprintf(`[...document.querySelectorAll(".themes button")].find(b => b.textContent === %q).click()`, theme), nil)
		w.contrast("hand, " + theme)
		w.axe("hand, " + theme)
		if *shots != "" {
			w.screenshot(filepath.Join(*shots, "hand-"+theme+".png"))
		}
	}
	undo("a typed place")
	w.blameless(address)
}

// drag takes a handle in the middle of one of its shapes and moves it by so many metres.
func (w *window) drag(name, shape string, dx, dy float64) {
	w.t.Helper()
	var at struct{ X, Y, Scale float64 }
	w.run(fmt.Sprintf(`(() => { const h = document.querySelector("[aria-label='%s'] %s"); h.scrollIntoView({block: "center"}); const b = h.getBoundingClientRect();
		return { x: b.x + b.width / 2, y: b.y + b.height / 2, scale: h.closest("svg").getScreenCTM().a }; })()`, name, shape), &at)
	mouse := func(kind string, share float64) {
		w.must("Input.dispatchMouseEvent", map[string]any{"type": kind, "x": at.X + share*dx*at.Scale, "y": at.Y - share*dy*at.Scale, "button": "left", "buttons": 1, "clickCount": 1}, nil)
	}
	mouse("mousePressed", 0)
	const steps = 10
	for i := range steps {
		mouse("mouseMoved", float64(i+1)/steps)
	}
	mouse("mouseReleased", 1)
}
