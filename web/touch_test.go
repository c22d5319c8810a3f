package web_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A finger takes what is at least 15 mm across, 56.7 CSS pixels at 96 an inch, drags a lamp with it and the target on the ladder.
func TestFingersTakeThings(t *testing.T) {
	folder := t.TempDir()
	file := filepath.Join(folder, "touch.yaml")
	text := "gloam: 1\ntitle: A touch\nset: {rooms: {hall: 6 x 5 x 3 m}}\nlamps: {key: {kit: P20, at: 4 4 2, aim: ann, dim: 50 %}}\n" +
		"people: {ann: {at: 3 2, faces: 0 deg, key: left}}\ncamera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8}\ntargets: [{point: ann.key side, level: 0}]\n"
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	w := launch(t).window(820, 1180)
	w.must("Emulation.setTouchEmulationEnabled", map[string]any{"enabled": true, "maxTouchPoints": 5}, nil)
	w.visit(served(t, folder))
	w.await(`document.querySelector("a[href*='touch']")`)
	w.run(`document.querySelector("a[href*='touch']").click()`, nil)
	w.await(settled)
	w.await(`matchMedia("(pointer: coarse)").matches`)
	if *shots != "" {
		w.screenshot(filepath.Join(*shots, "touch.png"))
	}
	var small []string
	w.run(`[...document.querySelectorAll(".groundplan circle.reach, .wanted rect.reach, button, input:not([type=checkbox]):not([type=file]), select, .choose")].filter(e => {
		const b = e.getBoundingClientRect();
		return b.width > 0 && Math.max(b.width, b.height) < 56;
	}).map(e => (e.closest("[aria-label]")?.getAttribute("aria-label") ?? e.outerHTML.slice(0, 80)))`, &small)
	if len(small) > 0 {
		t.Errorf("too small for a finger: %q", small)
	}
	drag := func(what string, dx, dy float64) {
		t.Helper()
		var at struct{ X, Y float64 }
		w.run(`(() => { const e = document.querySelector("`+what+`"); e.scrollIntoView({block: "center"}); const b = e.getBoundingClientRect(); return { x: b.x + b.width / 2, y: b.y + b.height / 2 }; })()`, &at)
		touch := func(kind string, points ...map[string]any) {
			w.must("Input.dispatchTouchEvent", map[string]any{"type": kind, "touchPoints": append([]map[string]any{}, points...)}, nil)
		}
		touch("touchStart", map[string]any{"x": at.X, "y": at.Y})
		for i := 1.0; i <= 4; i++ {
			touch("touchMove", map[string]any{"x": at.X + dx*i/4, "y": at.Y + dy*i/4})
		}
		touch("touchEnd")
	}
	says := func(what, was string) {
		t.Helper()
		w.await(`!document.querySelector(".tools button").disabled`)
		w.await(`!localStorage.getItem("gloam.unsent.touch.yaml")`)
		now, err := os.ReadFile(file)
		if err != nil || strings.Contains(string(now), was) {
			t.Errorf("%s: %v, the file still says %q", what, err, was)
		}
	}
	drag("[aria-label='key, move'] .reach", -60, 40)
	says("a lamp", "at: 4 4 2")
	drag(".wanted .reach", 0, -60)
	says("a target", "level: 0}")
}
