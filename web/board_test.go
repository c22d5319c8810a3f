package web_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// key presses a key where the focus is.
func (w *window) key(name string, modifiers int) {
	w.t.Helper()
	text := map[string]string{"Enter": "\r"}[name]
	codes := map[string]int{"Enter": 13, "Escape": 27, "Delete": 46, "ArrowLeft": 37, "ArrowUp": 38, "ArrowRight": 39, "ArrowDown": 40}
	w.must("Input.dispatchKeyEvent", map[string]any{"type": "keyDown", "key": name, "text": text, "windowsVirtualKeyCode": codes[name], "modifiers": modifiers}, nil)
	w.must("Input.dispatchKeyEvent", map[string]any{"type": "keyUp", "key": name, "windowsVirtualKeyCode": codes[name], "modifiers": modifiers}, nil)
}

// types puts text into a field as a keyboard does.
func (w *window) types(selector, text string) {
	w.t.Helper()
	w.await(fmt.Sprintf(`document.querySelector(%q)`, selector))
	w.run(fmt.Sprintf(`(() => { const i = document.querySelector(%q); i.focus(); i.select(); })()`, selector), nil)
	w.must("Input.insertText", map[string]any{"text": text}, nil)
}

// pick takes a tool by its word.
func (w *window) pick(word string) {
	w.t.Helper()
	w.run(fmt.Sprintf(`[...document.querySelectorAll(".strip button")].find(b => b.textContent === %q).click()`, word), nil)
	w.await(`document.querySelector(".asks")`)
}

// asks answers what the tool in hand wants to know.
func (w *window) asks(answers ...string) {
	w.t.Helper()
	for i := 0; i < len(answers); i += 2 {
		field := fmt.Sprintf(".asks [name='%s']", answers[i])
		w.await(fmt.Sprintf(`document.querySelector(%q)`, field))
		chooses := false
		if w.run(fmt.Sprintf(`document.querySelector(%q).tagName === "SELECT"`, field), &chooses); chooses {
			w.run(fmt.Sprintf(`(() => { const s = document.querySelector(%q); s.value = %q; s.dispatchEvent(new Event("change", {bubbles: true})); })()`, field, answers[i+1]), nil)
			continue
		}
		w.types(field, answers[i+1])
	}
}

// added waits until what was added is drawn and saved.
func (w *window) added(name string) {
	w.t.Helper()
	w.await(fmt.Sprintf(`!document.querySelector(".asks") && [...document.querySelectorAll(".things li")].some(l => l.textContent.trim().startsWith(%q))`, name))
}

// presses drags on the paper from one place of the plan to another, in metres.
func (w *window) presses(x, y, toX, toY float64) {
	w.t.Helper()
	var m struct{ A, E, F float64 }
	w.run(`(() => { const p = document.querySelector(".groundplan .paper"); p.scrollIntoView({block: "center"}); const m = p.getScreenCTM(); return { a: m.a, e: m.e, f: m.f }; })()`, &m)
	mouse := func(kind string, x, y float64) {
		w.must("Input.dispatchMouseEvent", map[string]any{"type": kind, "x": m.E + x*m.A, "y": m.F - y*m.A, "button": "left", "buttons": 1, "clickCount": 1}, nil)
	}
	mouse("mousePressed", x, y)
	const steps = 5
	for i := range steps {
		share := float64(i+1) / steps
		mouse("mouseMoved", x+share*(toX-x), y+share*(toY-y))
	}
	mouse("mouseReleased", toX, toY)
}

// The luthier's room is built from an empty sheet by mouse and keyboard; every point reads what the terminal prints of the
// file saved, after a reload too, and undo goes back to the empty sheet.
func TestASetUpIsBuiltFromNothing(t *testing.T) {
	folder := t.TempDir()
	address := served(t, folder)
	w := launch(t).window(1280, 1000)
	w.visit(address)
	w.await(`[...document.querySelectorAll("button")].some(b => b.textContent === "New plan")`)
	w.run(`[...document.querySelectorAll("button")].find(b => b.textContent === "New plan").click()`, nil)
	w.await(`document.querySelector(".strip")`)
	w.await(`document.querySelector(".messages .fault")`) // nothing shines yet
	file := filepath.Join(folder, "new-plan.yaml")
	empty, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if *shots != "" {
		w.screenshot(filepath.Join(*shots, "empty.png"))
	}

	w.pick("Room") // dragged, 5 x 4 m
	w.asks("name", "workshop", "tall", "2.8 m")
	w.presses(0, 0, 5, 4)
	w.added("workshop")
	w.types("input[aria-label='workshop, walls']", "dark wood")
	w.key("Enter", 0)
	w.pick("Window, door") // dragged along the near wall, then told its size by the keyboard
	w.asks("name", "window", "sill", "1 m", "gel", "ND 1.5")
	w.presses(4.9, 0, 3.3, 0)
	w.added("window")
	w.pick("Object")
	w.asks("name", "bench", "kind", "table", "size", "1.5 x 0.6 x 0.78 m", "at", "2.6 1.45", "material", "light wood")
	w.key("Enter", 0)
	w.added("bench")
	w.pick("Person") // pressed where he sits and dragged to where he looks
	w.asks("name", "luthier", "key", "right", "face", "1.25 m")
	w.presses(2.6, 0.9, 2.6, 2.4)
	w.added("luthier")
	w.pick("Cloth")
	w.asks("name", "key frame", "kind", "full grid cloth", "size", "1.2 x 1.2 m", "at", "1.5 m from luthier.key side bearing 45", "height", "", "faces", "luthier.key side")
	w.key("Enter", 0)
	w.added("key frame")
	w.pick("Lamp")
	w.asks("name", "key lamp", "kit", "B12-D60", "at", "1 m from key frame bearing 45", "height", "", "aim", "key frame", "dim", "88 %", "colour", "2700 K")
	w.key("Enter", 0)
	w.added("key lamp")
	w.pick("Practical")
	w.asks("name", "globe", "kind", "globe", "at", "0.75 m from luthier.front bearing 0", "height", "0.5 m", "flux", "470 lm", "dim", "24 %")
	w.key("Enter", 0)
	w.added("globe")
	w.pick("Camera") // set up in the corner, aimed at him by hand
	w.asks("height", "1.4 m")
	w.presses(1.6, 3.7, 2.6, 0.9)
	w.added("camera")
	w.pick("Point")
	w.asks("name", "sky seen", "receptor", "spot", "at", "window")
	w.key("Enter", 0)
	w.added("sky seen")
	w.pick("Point")
	w.asks("name", "bench top", "height", "0.9 m")
	w.presses(2.1, 1.5, 2.1, 1.5)
	w.added("bench top")
	w.pick("Ambient reading")
	w.asks("name", "sky", "reading", "640 lx", "shape", "everywhere", "point", "luthier.front", "colour", "7500 K", "through", "window", "luminance", "2400 cd/m2")
	w.key("Enter", 0)
	w.added("sky")
	w.pick("Walk")
	w.asks("name", "in")
	w.presses(0.5, 3.5, 0.5, 3.5)
	w.presses(1, 1.2, 1, 1.2)
	w.run(`document.querySelector(".asks button[type=submit]").click()`, nil)
	w.added("in")
	for label, value := range map[string]string{"Place": "55.95 N, 3.19 W", "Hour": "13:00", "Balance": "3600 K", "Stop": "T3.27", "ND": "ND 0.6"} {
		w.types(fmt.Sprintf(".block input[aria-label='%s']", label), value)
		w.key("Enter", 0)
	}
	w.final()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"size: 5.00 m x 4.00 m x 2.8 m", "walls: dark wood", "wall: near", "size: 1.60 m x 1.2 m", "faces: 0 deg", "aim: luthier", "at: 2.60 0.90", "receptor: spot", "- 0.50 3.50", "balance: 3600 K"} {
		if !strings.Contains(string(text), want) {
			t.Errorf("the file does not say %q:\n%s", want, text)
		}
	}
	w.agrees(file, "plan", 6)
	if *shots != "" {
		w.photographs("board")
	}
	w.visit("about:blank")
	w.visit(address[:strings.Index(address, "#")] + "#plan=new-plan.yaml")
	w.await(settled)
	w.agrees(file, "plan", 6)
	for range 60 { // a step each
		var state struct {
			Done     bool
			Revision string
		}
		w.run(`({ done: document.querySelector(".tools button").disabled, revision: document.querySelector(".paper").dataset.revision })`, &state)
		if state.Done {
			break
		}
		w.run(`document.querySelector(".tools button").click()`, nil)
		w.await(fmt.Sprintf(`document.querySelector(".paper").dataset.revision !== %q`, state.Revision))
	}
	w.await(`document.querySelector(".tools button").disabled`)
	if now, _ := os.ReadFile(file); string(now) != string(empty) {
		t.Errorf("all undone, the file is\n%s", now)
	}
	w.blameless(address)
}

// final waits until all is sent and the readings of the last revision are final.
func (w *window) final() {
	w.t.Helper()
	w.await(`!Object.keys(localStorage).some(k => k.startsWith("gloam.unsent.")) && document.querySelector("table[data-final=true]")?.dataset.revision === [...document.querySelectorAll(".block .cell")].find(c => c.textContent.startsWith("Revision")).querySelector("b").textContent`)
}

// photographs takes the page in every theme and size.
func (w *window) photographs(name string) {
	w.t.Helper()
	for _, theme := range []string{"day", "night", "rain"} {
		w.run(fmt.Sprintf(`[...document.querySelectorAll(".themes button")].find(b => b.textContent === %q).click()`, theme), nil)
		for _, width := range []int{360, 820, 1280, 1920} {
			w.resize(width, 1000)
			w.screenshot(filepath.Join(*shots, fmt.Sprintf("%s-%s-%d.png", name, theme, width)))
		}
	}
	w.resize(1280, 1000)
}

// A plan with everything that a hand can take.
const handled = `gloam: 1
title: Hands
camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8, at: 1 1 1.5, aim: ann}
set:
  rooms: {hall: {size: 5 x 4 x 2.8 m, openings: {window: {wall: far, size: 1 x 1 m, at: 1 m}}}}
  objects: {box: {kind: box, size: 0.6 x 0.4 x 0.5 m, at: 4 1}}
marks: {door: 0.5 2}
walks: {in: {marks: [door, 2 3.4]}}
people: {ann: {at: 3 2.5, faces: E, key: left}}
points: {table: {at: 2 0.6, height: 0.8 m, faces: up}}
lamps: {key: {kit: B12-D26, at: 4.5 3.5, height: 2 m, aim: ann, dim: 60 %}}
`

// Everything on the plan is dragged, and each drag is one step of undo.
func TestEverythingIsTakenByHand(t *testing.T) {
	folder := t.TempDir()
	file := filepath.Join(folder, "hands.yaml")
	if err := os.WriteFile(file, []byte(handled), 0o644); err != nil {
		t.Fatal(err)
	}
	address := served(t, folder)
	w := launch(t).window(1280, 1000)
	w.visit(address)
	w.await(`document.querySelector("a[href*='hands']")`)
	w.run(`document.querySelector("a[href*='hands']").click()`, nil)
	w.await(settled)
	says := func(what, want string) {
		t.Helper()
		w.await(`!document.querySelector(".tools button").disabled`)
		w.await(`!localStorage.getItem("gloam.unsent.hands.yaml")`)
		text, err := os.ReadFile(file)
		if err != nil || !strings.Contains(string(text), want) {
			t.Errorf("%s: %v, the file does not say %q:\n%s", what, err, want, text)
		}
	}
	undone := func(what string) {
		t.Helper()
		w.run(`document.querySelector(".tools button").click()`, nil)
		w.await(`document.querySelector(".tools button").disabled`)
		if text, _ := os.ReadFile(file); string(text) != handled {
			t.Errorf("%s: after one undo the file is\n%s", what, text)
		}
		w.await(`document.querySelector(".paper").dataset.revision === [...document.querySelectorAll(".block .cell")].find(c => c.textContent.startsWith("Revision")).querySelector("b").textContent`)
	}
	for _, row := range []struct {
		what, name, shape string
		dx, dy            float64
		want              string
	}{
		{"an object", "box, move", ".object", 0, 1, "at: 4.00 2.00}"},
		{"a mark", "door, move", ".ink", 0.5, 0, "door: 1.00 2.00"},
		{"a walk's own place", "in, place 2, move", ".ink", 0, -1, "[door, 2.00 2.40]"},
		{"a free point keeps its height", "table, move", ".reach", -0.8, 0, "at: 1.20 0.60, height: 0.8 m"},
		{"the camera", "camera, move", ".reach", 0.4, 0.2, "at: 1.40 1.20 1.50, aim: ann"},
		{"a window along its wall", "window, move", ".opening", 1.5, 0, "at: 2.50 m"},
		{"a window round the corner", "window, move", ".opening", -1.45, -2, "wall: left"},
	} {
		w.drag(row.name, row.shape, row.dx, row.dy)
		says(row.what, row.want)
		undone(row.what)
	}

	// The lamp is aimed at the box by laying its handle on it.
	w.run(`document.querySelector("[aria-label='key, move']").focus()`, nil)
	w.await(`document.querySelector("[aria-label='key, turn']")`)
	var from, to struct{ X, Y float64 }
	middle := `(() => { const b = document.querySelector("[aria-label='%s'] %s").getBoundingClientRect(); return { x: b.x + b.width / 2, y: b.y + b.height / 2 }; })()`
	w.run(`document.querySelector(".groundplan .paper").scrollIntoView({block: "center"})`, nil)
	w.run(fmt.Sprintf(middle, "key, turn", ".empty"), &from)
	w.run(fmt.Sprintf(middle, "box, move", ".object"), &to)
	for i, kind := range []string{"mousePressed", "mouseMoved", "mouseMoved", "mouseReleased"} {
		at := from
		if i > 1 {
			at = to
		}
		w.must("Input.dispatchMouseEvent", map[string]any{"type": kind, "x": at.X, "y": at.Y, "button": "left", "buttons": 1, "clickCount": 1}, nil)
	}
	says("a lamp aimed by hand", "aim: box")
	undone("a lamp aimed by hand")

	// Two things are taken in a list, nudged together, copied and deleted, by the keyboard.
	w.run(`document.querySelector(".things summary").click(); for (const n of ["box", "ann"]) [...document.querySelectorAll(".things label")].find(l => l.textContent.trim().startsWith(n)).querySelector("input").click()`, nil)
	w.await(`document.querySelectorAll(".hand.taken").length >= 1`)
	var names []string
	w.run(`[...document.querySelectorAll(".things input:checked")].map(i => i.parentElement.textContent.trim())`, &names)
	if len(names) != 3 { // the lamp was taken before
		t.Errorf("taken are %v", names)
	}
	w.run(`document.querySelector(".paper").focus()`, nil)
	w.key("Escape", 0)
	w.run(`for (const n of ["box", "ann"]) [...document.querySelectorAll(".things label")].find(l => l.textContent.trim().startsWith(n)).querySelector("input").click(); document.querySelector("[aria-label='box, move']").focus()`, nil)
	w.key("ArrowUp", 0)
	says("two nudged", "at: 4.00 1.10}")
	says("two nudged", "ann: {at: 3.00 2.60")
	undone("two nudged")
	w.run(`document.querySelector("[aria-label='box, move']").focus()`, nil)
	w.key("ArrowRight", 8) // with shift, finely
	says("nudged finely", "at: 4.01 1.00}")
	undone("nudged finely")
	w.run(`[...document.querySelectorAll(".athand button")].find(b => b.textContent === "Copy").click()`, nil)
	says("two copied", "box 2: {kind: box, size: 0.6 x 0.4 x 0.5 m, at: 4.50 1.00}")
	says("two copied", "ann 2: {at: 3.50 2.50, faces: E, key: left}")
	undone("two copied")
	w.run(`document.querySelector("[aria-label='table, move']").focus()`, nil)
	w.key("Delete", 0)
	says("a point deleted", "points: {}")
	undone("a point deleted")

	// A band is drawn round the lamp and ann.
	w.presses(2.6, 2.1, 4.9, 3.9)
	w.await(`document.querySelector(".athand")?.textContent.includes("2 things")`)

	// Measured from mark to point: 1.5 m and 1.4 m make 2.05 m.
	w.run(`[...document.querySelectorAll(".strip button")].find(b => b.textContent === "Measure").click()`, nil)
	w.presses(0.5, 2, 2, 0.6)
	w.await(`document.querySelector(".told")?.textContent === "2.05 m, 6′ 9″"`)
	w.run(`document.querySelector(".paper").focus()`, nil)
	w.key("Escape", 0)
	w.await(`!document.querySelector(".told")`)

	// In section the lamp is raised, by hand and by key.
	w.run(`[...document.querySelectorAll(".strip button")].find(b => b.textContent === "Section").click()`, nil)
	w.await(`document.querySelector("[aria-label='key, raise']")`)
	w.drag("key, raise", ".head", 0, 0.5)
	says("a lamp raised", "at: 4.50 3.50, height: 2.50 m")
	undone("a lamp raised")
	w.run(`document.querySelector("[aria-label='key, raise']").focus()`, nil)
	w.key("ArrowDown", 0)
	says("a lamp lowered by key", "height: 1.90 m")
	undone("a lamp lowered by key")
	w.run(`document.querySelector("[aria-label='key, move']").focus()`, nil)
	w.types("input[aria-label='key, height']", "12'6\"")
	w.key("Enter", 0)
	says("a height typed in feet", "height: 12'6\"")
	undone("a height typed in feet")
	w.run(`document.querySelector("[aria-label='north arrow, turn']").focus()`, nil)
	w.key("ArrowLeft", 0)
	says("north turned", "north: 5 deg")
	undone("north turned")
	w.run(`document.querySelector(".compass summary").click()`, nil)
	w.types(".compass label:nth-of-type(1) input", "350")
	w.types(".compass label:nth-of-type(2) input", "5")
	w.key("Enter", 0)
	says("north from a compass", "north: 355 deg")
	undone("north from a compass")
	for _, theme := range []string{"day", "night", "rain"} {
		w.run(fmt.Sprintf(`[...document.querySelectorAll(".themes button")].find(b => b.textContent === %q).click()`, theme), nil)
		w.pick("Lamp")
		w.contrast("board, " + theme)
		w.axe("board, " + theme)
		w.run(`document.querySelector(".paper").focus()`, nil)
		w.key("Escape", 0)
	}
	if *shots != "" {
		w.run(`document.querySelector("[aria-label='key, move']").focus()`, nil)
		w.photographs("section")
	}
	w.blameless(address)
}
