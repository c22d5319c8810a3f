package web_test

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"testing"

	"gloam/internal/plan"
)

// A photograph of a floor, 400 by 200 pixels with a line from (100, 50) to (300, 50), is laid under an empty sheet and scaled by
// that line, known to be 3 m: a second length on it, 100 pixels up, is then 1.5 m within 2 %. One undo for each step.
func TestAPhotographIsDrawnOver(t *testing.T) {
	im := image.NewGray(image.Rect(0, 0, 400, 200))
	for i := range im.Pix {
		im.Pix[i] = 230
	}
	for i := range 201 {
		im.SetGray(100+i, 150, color.Gray{})
	}
	var photo bytes.Buffer
	if err := png.Encode(&photo, im); err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	file := filepath.Join(folder, "hands.yaml")
	if err := os.WriteFile(file, []byte("gloam: 1\ntitle: A floor\ncamera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8}\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	w := launch(t).window(1280, 1000)
	w.visit(served(t, folder))
	w.await(`document.querySelector("a[href*='hands']")`)
	w.run(`document.querySelector("a[href*='hands']").click()`, nil)
	w.await(`document.querySelector(".choose input")`)
	w.run(fmt.Sprintf(`(() => {
		const bytes = Uint8Array.from(atob("%s"), c => c.charCodeAt(0)), t = new DataTransfer();
		t.items.add(new File([bytes], "Floor.png", { type: "image/png" }));
		const input = document.querySelector(".choose input");
		input.files = t.files;
		input.dispatchEvent(new Event("change", { bubbles: true }));
	})()`, base64.StdEncoding.EncodeToString(photo.Bytes())), nil)
	w.await(`document.querySelector("image.photograph")`)
	w.await(`!localStorage.getItem("gloam.unsent.hands.yaml")`)

	underlay := func() (x, y, width float64) {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		p, faults := plan.Read(file, text, plan.Beside(file))
		if p == nil {
			t.Fatal(faults)
		}
		u := p.Document.Set.Underlay
		if u == nil {
			t.Fatalf("nothing lies under\n%s", text)
		}
		return float64(u.At.X), float64(u.At.Y), float64(*u.Width)
	}
	x, y, width := underlay()
	at := func(px, up float64) (float64, float64) { return x + px/400*width, y + up/400*width }
	w.run(`[...document.querySelectorAll(".strip button")].find(b => b.textContent.includes("Snap")).click()`, nil)
	w.run(`[...document.querySelectorAll(".strip button")].find(b => b.textContent.includes("Measure")).click()`, nil)
	w.await(`document.querySelector("form[aria-label='Scale the photograph']")`)
	fromX, fromY := at(100, 50)
	toX, toY := at(300, 50)
	w.presses(fromX, fromY, toX, toY)
	w.await(`document.querySelector(".figures .told").textContent.includes("now")`)
	w.types("form[aria-label='Scale the photograph'] input", "3 m")
	w.key("Enter", 0)
	w.await(`!document.querySelector("form[aria-label='Scale the photograph']")`)
	w.await(`!localStorage.getItem("gloam.unsent.hands.yaml")`)
	if *shots != "" {
		w.screenshot(filepath.Join(*shots, "underlay.png"))
	}
	x, y, width = underlay()
	_, low := at(0, 50)
	_, high := at(0, 150)
	if off := (high-low)/1.5 - 1; math.Abs(off) > 0.02 {
		t.Errorf("the second length is %.3f m, off by %.1f %%", high-low, 100*off)
	}
	if againX, againY := at(100, 50); math.Hypot(againX-fromX, againY-fromY) > 0.03 {
		t.Errorf("the end tapped first went to %.2f %.2f from %.2f %.2f", againX, againY, fromX, fromY)
	}
	w.run(`document.querySelector(".tools button").click()`, nil)
	w.await(`document.querySelector("image.photograph").getAttribute("width") === "5"`)
	w.run(`document.querySelector(".tools button").click()`, nil)
	w.await(`!document.querySelector("image.photograph")`)
}
