package web_test

import (
	"fmt"
	"testing"
)

// compared fetches the engine's PNG of the picture that is composed on the page, and returns how far its pixels are from the
// canvas's: the greatest difference of 255 in any component, the share of pixels that differ by more than one, and the mean of
// all components. It asks again when a newer picture came meanwhile.
const compared = `(async (stops) => {
	const token = localStorage.getItem("gloam.token"), setup = new URLSearchParams(location.hash.slice(1)).get("setup") ?? "";
	for (;;) {
		const name = document.querySelector(".mounted").dataset.picture;
		const q = new URLSearchParams({ plan: "luthier.yaml", setup, picture: 480, name, stops });
		const r = await fetch("/api/picture/screen?" + q, { headers: { "Gloam-Token": token } });
		if (!r.ok) { await new Promise(go => setTimeout(go, 100)); continue; }
		const theirs = await createImageBitmap(await r.blob());
		if (document.querySelector(".mounted").dataset.picture !== name) continue;
		const canvas = document.querySelector(".mounted canvas");
		const pixels = (from) => { const c = new OffscreenCanvas(canvas.width, canvas.height).getContext("2d"); c.drawImage(from, 0, 0); return c.getImageData(0, 0, canvas.width, canvas.height).data; };
		const a = pixels(canvas), b = pixels(theirs);
		let most = 0, apart = 0, sum = 0;
		for (let i = 0; i < a.length; i += 4) {
			let d = 0;
			for (let k = 0; k < 3; k++) { d = Math.max(d, Math.abs(a[i + k] - b[i + k])); sum += a[i + k]; }
			most = Math.max(most, d);
			if (d > 1) apart++;
		}
		return { most, apart: 4 * apart / a.length, mean: sum / a.length * 4 / 3, width: canvas.width };
	}
})`

// mapCompared is compared for the map of stops. The engine writes its numbers into the map, the page over it.
const mapCompared = compared + `(true)`

type comparison struct{ Most, Apart, Mean, Width float64 }

// opened opens the luthier's set-up and waits for a composed picture.
func opened(t *testing.T, w *window, address string) {
	t.Helper()
	w.visit(address)
	w.await(`document.querySelector("a[href*='luthier']")`)
	w.run(`document.querySelector("a[href*='luthier']").click()`, nil)
	w.await(`document.querySelector(".mounted canvas")?.width === 480`)
}

// What the page composes of layers is the picture that the engine shows, to one of 255, and its map of stops but for the numbers
// on it.
func TestThePictureIsComposed(t *testing.T) {
	address := served(t, withExample(t, "luthier"))
	w := launch(t).window(1280, 900)
	opened(t, w, address)
	var is comparison
	w.run(compared+`(false)`, &is)
	t.Logf("the print: %+v", is)
	if is.Most > 1 || is.Mean < 5 {
		t.Errorf("the page's picture is not the engine's: %+v", is)
	}
	w.run(`[...document.querySelectorAll("button")].find(b => b.textContent === "Stops map").click()`, nil)
	w.await(`document.querySelector(".stopskey") && document.querySelector(".mounted .on")`)
	w.run(mapCompared, &is)
	t.Logf("the map of stops: %+v", is)
	if is.Apart > 0.005 || is.Mean < 50 {
		t.Errorf("the page's map is not the engine's: %+v", is)
	}
	w.blameless(address)
}

// A dial that is turned turns the picture in the same frame; what the server then sends changes nothing.
func TestADialTurnsThePictureAtOnce(t *testing.T) {
	address := served(t, withExample(t, "luthier"))
	w := launch(t).window(1280, 900)
	opened(t, w, address)
	mean := `(() => { const from = document.querySelector(".mounted canvas"), c = new OffscreenCanvas(480, 270).getContext("2d"); c.drawImage(from, 0, 0); return c.getImageData(0, 0, 480, 270).data.reduce((s, x, i) => i % 4 === 3 ? s : s + x, 0); })()`
	var r struct{ Before, After, Revision float64 }
	w.run(fmt.Sprintf(`(() => { const before = %s; const i = document.querySelector("input[aria-label='key lamp, level']"); i.dispatchEvent(new PointerEvent("pointerdown")); i.value = 20;
		i.dispatchEvent(new Event("input", { bubbles: true })); return { before, after: %[1]s, revision: Number(document.querySelector(".mounted").dataset.picture.split("-")[0]) }; })()`, mean), &r)
	if r.Revision != 1 || !(r.After < r.Before*0.9) {
		t.Errorf("turned down, the picture went from %v to %v at once, at revision %v", r.Before, r.After, r.Revision)
	}
	var later float64
	w.await(`document.querySelector(".mounted").dataset.picture.startsWith("2-")`)
	if w.run(mean, &later); later > r.After*1.01 || later < r.After*0.99 {
		t.Errorf("once answered it is %v, at once it was %v", later, r.After)
	}
	var is comparison
	if w.run(compared+`(false)`, &is); is.Most > 1 {
		t.Errorf("the page's picture is not the engine's: %+v", is)
	}
	w.blameless(address)
}

// A picture kept is compared with what is now by a wipe, at its handle or by keys: left of it nothing changes.
func TestAPictureKeptIsCompared(t *testing.T) {
	address := served(t, withExample(t, "luthier"))
	w := launch(t).window(1280, 900)
	opened(t, w, address)
	halves := `(() => { const c = new OffscreenCanvas(480, 270).getContext("2d"); c.drawImage(document.querySelector(".mounted canvas"), 0, 0);
		return [0, 240].map(x => c.getImageData(x, 0, 240, 270).data.reduce((s, v, i) => i % 4 === 3 ? s : s + v, 0)); })()`
	var before, wiped, after [2]float64
	w.run(halves, &before)
	w.run(`[...document.querySelectorAll("button")].find(b => b.textContent === "Keep as A").click()`, nil)
	w.await(`document.querySelector(".wipe[role=slider]")`)
	w.run(`(() => { const i = document.querySelector("input[aria-label='key lamp, level']"); i.value = 20; i.dispatchEvent(new Event("input", { bubbles: true })); })()`, nil)
	w.run(halves, &wiped)
	if wiped[0] != before[0] || !(wiped[1] < before[1]*0.9) {
		t.Errorf("left of the wipe %v was %v, right of it %v was %v", wiped[0], before[0], wiped[1], before[1])
	}
	var handle struct{ X, Y, Left, Width float64 }
	w.run(`(() => { const h = document.querySelector(".wipe").getBoundingClientRect(), b = document.querySelector(".mounted").getBoundingClientRect(); return { x: h.x + h.width / 2, y: h.y + h.height / 2, left: b.x, width: b.width }; })()`, &handle)
	for _, e := range []struct {
		kind string
		x    float64
	}{{"mousePressed", handle.X}, {"mouseMoved", handle.Left + 0.1*handle.Width}, {"mouseReleased", handle.Left + 0.1*handle.Width}} {
		w.must("Input.dispatchMouseEvent", map[string]any{"type": e.kind, "x": e.x, "y": handle.Y, "button": "left", "buttons": 1, "clickCount": 1}, nil)
	}
	w.await(`document.querySelector(".wipe").ariaValueNow === "10"`)
	w.run(`document.querySelector(".wipe").focus()`, nil)
	for _, kind := range []string{"keyDown", "keyUp"} {
		w.must("Input.dispatchKeyEvent", map[string]any{"type": kind, "key": "Home", "code": "Home", "windowsVirtualKeyCode": 36}, nil)
	}
	w.await(`document.querySelector(".wipe").ariaValueNow === "0"`)
	w.run(halves, &after)
	if !(after[0] < before[0]*0.95) || after[1] != wiped[1] {
		t.Errorf("wiped away, the left is %v and was %v; the right is %v and was %v", after[0], before[0], after[1], wiped[1])
	}
	w.run(`[...document.querySelectorAll("button")].find(b => b.textContent === "Stops map").click()`, nil)
	w.await(`document.querySelector(".stopskey")`)
	for _, theme := range []string{"day", "night", "rain"} {
		w.run(fmt.Sprintf(`[...document.querySelectorAll(".themes button")].find(b => b.textContent === %q).click()`, theme), nil)
		w.contrast("compared, " + theme)
		w.axe("compared, " + theme)
	}
	w.run(`[...document.querySelectorAll("button")].find(b => b.textContent === "Drop A").click()`, nil)
	w.await(`!document.querySelector(".wipe")`)
	w.blameless(address)
}

// The probe is led by keys and reads what the engine reads there; the picture of another hour is looked at and left; a file is
// saved; and what the page can't compose the server shows.
func TestThePrintsTools(t *testing.T) {
	folder := withExample(t, "snow")
	address := served(t, folder)
	b := launch(t)
	for _, plain := range []bool{false, true} {
		w := b.window(820, 1100)
		if plain { // a browser without WebGL2
			w.must("Page.addScriptToEvaluateOnNewDocument", map[string]any{"source": `HTMLCanvasElement.prototype.getContext = () => null`}, nil)
		}
		w.visit("about:blank")
		w.visit(address)
		w.await(`document.querySelector("a[href*='snow']")`)
		w.run(`document.querySelector("a[href*='snow']").click()`, nil)
		if plain {
			w.await(`document.querySelector(".mounted img")?.naturalWidth > 0 && !document.querySelector(".mounted canvas")`)
		} else {
			w.await(`document.querySelector(".mounted canvas")?.width === 480`)
		}
		w.run(`document.querySelector(".mounted .probe").focus()`, nil)
		for range 3 {
			for _, kind := range []string{"keyDown", "keyUp"} {
				w.must("Input.dispatchKeyEvent", map[string]any{"type": kind, "key": "ArrowRight", "code": "ArrowRight", "windowsVirtualKeyCode": 39}, nil)
			}
		}
		w.await(`document.querySelector(".probed").textContent.includes("over grey")`)
		var same bool
		w.run(`(async () => { for (;;) {
			const name = document.querySelector(".mounted").dataset.picture, q = new URLSearchParams({ plan: "snow.yaml", picture: 480, name, x: 247, y: 126 });
			const r = await fetch("/api/picture/probe?" + q, { headers: { "Gloam-Token": localStorage.getItem("gloam.token") } });
			await new Promise(go => setTimeout(go, 400));
			if (!r.ok || document.querySelector(".mounted").dataset.picture !== name) continue;
			return (await r.json()).printed === document.querySelector(".probed").textContent;
		} })()`, &same)
		if !same {
			t.Error("the probe does not read what the engine reads")
		}
		w.run(`URL.createObjectURL = (was => blob => { window.saved = blob.type + " " + blob.size; return was.call(URL, blob); })(URL.createObjectURL);
			[...document.querySelectorAll("button")].find(b => b.textContent === "Save EXR").click()`, nil)
		w.await(`/^image\/x-exr \d{5,}$/.test(window.saved)`)
		w.blameless(address)
	}
}

// The picture of another hour takes the place of the plan's own, follows the hour as it goes on, and goes when it is left.
func TestThePictureFollowsTheHour(t *testing.T) {
	address := served(t, withExample(t, "atelier"))
	w := launch(t).window(1280, 900)
	w.visit(address)
	w.await(`document.querySelector("a[href*='atelier']")`)
	w.run(`document.querySelector("a[href*='atelier']").click()`, nil)
	w.await(`document.querySelector(".mounted canvas")?.width === 480`)
	look := func(hour string) {
		t.Helper()
		w.run(fmt.Sprintf(`(() => { const i = document.querySelector("input.hour"); i.value = %q; i.dispatchEvent(new Event("change", { bubbles: true })); })()`, hour), nil)
	}
	mean := func() (sum float64) {
		w.run(`(() => { const c = new OffscreenCanvas(480, 270).getContext("2d"); c.drawImage(document.querySelector(".mounted canvas"), 0, 0, 480, 270); return c.getImageData(0, 0, 480, 270).data.reduce((s, x, i) => i % 4 === 3 ? s : s + x, 0); })()`, &sum)
		return sum
	}
	at := func(hour string) string {
		return fmt.Sprintf(`document.querySelector("#print").textContent === "Picture%s"`, hour)
	}
	planned := mean()
	look("15:30")
	w.await(at(" at 15:30") + ` && document.querySelector(".mounted canvas")?.width === 480`)
	later := mean()
	if later > 0.95*planned && later < 1.05*planned {
		t.Errorf("at 15:30 the picture is as bright as at 10:00: %v, %v", later, planned)
	}
	w.run(`window.widths = []; new MutationObserver(() => window.widths.push(document.querySelector(".mounted canvas").width)).observe(document.querySelector(".mounted"), { attributeFilter: ["data-picture"] })`, nil)
	look("16:00")
	w.await(at(" at 16:00"))
	var widths []float64
	if w.run(`window.widths`, &widths); len(widths) == 0 || widths[0] != 480 {
		t.Errorf("turned on by half an hour, the first picture is %v wide", widths)
	}
	look("25:00")
	w.await(`document.querySelector(".print [role=status]")?.textContent.includes("is not a time of day")`)
	look("")
	w.await(at(""))
	w.blameless(address)
}
