package web_test

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// compiled serves a source of the page, and what it imports, as the browser's own modules. The test is skipped where npm ci has
// not brought the compiler.
func compiled(t *testing.T, source string) string {
	t.Helper()
	compiler := "node_modules/.bin/tsc"
	if _, err := os.Stat(compiler); err != nil {
		t.Skip("no compiler: npm ci brings it")
	}
	out := t.TempDir()
	c := exec.Command(compiler, "--ignoreConfig", "--outDir", out, "--target", "es2022", "--module", "esnext", "--moduleResolution", "bundler", "--lib", "es2023,dom,dom.iterable", "src/"+source)
	if text, err := c.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, text)
	}
	s := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		name := strings.TrimPrefix(r.URL.Path, "/")
		if name == "" {
			w.Header().Set("Content-Type", "text/html")
			w.Write([]byte("<!doctype html>"))
			return
		}
		text, err := os.ReadFile(filepath.Join(out, name+".js"))
		if err != nil {
			http.NotFound(w, r)
			return
		}
		w.Header().Set("Content-Type", "text/javascript")
		w.Write(text)
	}))
	t.Cleanup(s.Close)
	return s.URL
}

// turning composes twenty layers at 960 × 540, turns one dial and then all, and returns frames a second of each, and how far the
// picture put together so differs from one composed at once.
const turning = `(async () => {
	const { Glass } = await import("/glass");
	const steps = Array.from({ length: 4097 }, (_, i) => i / 4096);
	const tables = { luminance: [.2, .7, .1], most: 1, shown: steps, encoded: steps };
	const width = 960, height = 540, layers = 20, glass = new Glass(tables), fresh = new Glass(tables);
	let seed = 1;
	const lot = () => (seed = (seed * 16807) % 2147483647) / 2147483647;
	const terms = [];
	for (let l = 0; l < layers; l++) {
		const halves = new Uint16Array(width * height * 8);
		for (let i = 0; i < halves.length; i++) halves[i] = 0x3000 + (i * 7 + l * 131) % 0x800; // an eighth to a half
		for (const g of [glass, fresh]) g.put("v" + l, width, height, halves.buffer);
		terms.push({ version: "v" + l, level: lot(), weights: [0, 1, 2, 3].map(() => Array.from({ length: 8 }, () => lot() / 60)) });
	}
	const gl = glass.canvas.getContext("webgl2"), one = new Uint8Array(4);
	const frame = () => { glass.compose(terms.map(t => ({ ...t })), width, height); glass.show(null, 0); gl.readPixels(5, 5, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, one); };
	const rate = (frames, turn) => { frame(); const from = performance.now(); for (let i = 0; i < frames; i++) { turn(i); frame(); } return 1000 * frames / (performance.now() - from); };
	const single = rate(20, i => { terms[3].level = i / 20; });
	const all = rate(4, i => { for (const t of terms) t.level = lot(); });
	rate(3, i => { terms[3].level = i / 5; }); rate(3, i => { terms[5].level = i / 4; terms[19].level = 0.3; });
	fresh.compose(terms, width, height); fresh.show(null, 0);
	const pixels = g => { const c = new OffscreenCanvas(width, height).getContext("2d"); c.drawImage(g.canvas, 0, 0); return c.getImageData(0, 0, width, height).data; };
	const a = pixels(glass), b = pixels(fresh);
	let apart = 0, mean = 0;
	for (let i = 0; i < a.length; i++) { apart = Math.max(apart, Math.abs(a[i] - b[i])); mean += b[i] / b.length; }
	// one pixel by hand
	const float = h => (1 + (h & 1023) / 1024) * 2 ** ((h >> 10) - 15), p = 100 * width + 200;
	const half = (l, band) => 0x3000 + ((((band >> 2) * width * height + p) * 4 + band % 4) * 7 + l * 131) % 0x800;
	const want = [0, 1, 2].map(k => 255 * terms.reduce((s, t, l) => s + t.level * t.weights[k].reduce((q, w, band) => q + w * float(half(l, band)), 0), 0));
	return { single, all, apart, mean, hand: Math.max(...want.map((w, k) => Math.abs(w - b[4 * p + k]))) };
})()`

// Twenty layers turned one by one are, folded, what they are composed at once. How fast is told, not asserted: it is the
// machine's.
func TestDialToPictureSpeed(t *testing.T) {
	address := compiled(t, "glass.ts")
	w := launch(t).window(1000, 700)
	w.visit(address)
	w.await(`document.readyState === "complete" && location.protocol === "http:"`)
	var r struct{ Single, All, Apart, Mean, Hand float64 }
	w.run(turning, &r)
	t.Logf("960 × 540, 20 layers: one dial turned %.0f frames a second, all turned %.0f", r.Single, r.All)
	if r.Apart > 1 || r.Mean < 40 || r.Hand > 1 {
		t.Errorf("folded, the picture is %v of 255 off one composed at once, which is %v off by hand; mean %v", r.Apart, r.Hand, r.Mean)
	}
}

// A lamp's dial on the page turns its picture. How often is told, not asserted.
func TestDialOnThePageSpeed(t *testing.T) {
	address := served(t, withExample(t, "luthier"))
	w := launch(t).window(1280, 900)
	opened(t, w, address)
	var rate float64
	w.run(`(() => { const i = document.querySelector("input[aria-label='key lamp, level']"), gl = document.querySelector(".mounted canvas").getContext("webgl2"), one = new Uint8Array(4);
		i.dispatchEvent(new PointerEvent("pointerdown"));
		const from = performance.now(), turns = 60;
		for (let n = 0; n < turns; n++) { i.value = 20 + n; i.dispatchEvent(new Event("input", { bubbles: true })); gl.readPixels(5, 5, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, one); }
		return 1000 * turns / (performance.now() - from); })()`, &rate)
	t.Logf("480 × 270, the luthier's layers: a dial turned %.0f pictures a second", rate)
	if !(rate > 0) {
		t.Error("the dial does not turn")
	}
}

// While a lamp is dragged the picture follows in drafts. How often is told, not asserted.
func TestDraggedLampSpeed(t *testing.T) {
	address := served(t, withExample(t, "luthier"))
	w := launch(t).window(1280, 900)
	opened(t, w, address)
	w.await(`document.querySelector(".mounted").dataset.picture.split("-")[1] >= 3`) // a full picture stands
	var box struct{ X, Y, Scale float64 }
	w.run(`(() => { const h = document.querySelector("[aria-label='key lamp, move'] .head").getBoundingClientRect();
		window.drafts = 0; new MutationObserver(() => { window.drafts++; }).observe(document.querySelector(".mounted"), { attributeFilter: ["data-picture"] });
		return { x: h.x + h.width / 2, y: h.y + h.height / 2, scale: document.querySelector(".groundplan .paper").getScreenCTM().a }; })()`, &box)
	mouse := func(kind string, x float64) {
		w.must("Input.dispatchMouseEvent", map[string]any{"type": kind, "x": x, "y": box.Y, "button": "left", "buttons": 1, "clickCount": 1}, nil)
	}
	mouse("mousePressed", box.X)
	started := time.Now()
	for time.Since(started) < 4*time.Second {
		mouse("mouseMoved", box.X-box.Scale*0.5*time.Since(started).Seconds()/4)
		time.Sleep(16 * time.Millisecond)
	}
	took := time.Since(started).Seconds()
	var drafts float64
	w.run(`window.drafts`, &drafts)
	mouse("mouseReleased", box.X-box.Scale*0.5)
	t.Logf("a lamp dragged: %.1f pictures a second", drafts/took)
	if drafts == 0 {
		t.Error("the picture does not follow")
	}
}

// What a hand holds is read from an edit, and what turns is kept out of the folded base, without a browser's help but to run it.
func TestWhatIsHeldAndWhatMoves(t *testing.T) {
	w := launch(t).window(400, 300)
	for _, c := range []struct{ source, expression, want string }{
		{"held.ts", `m.held([{ path: "lamps.key.dim", value: "34 %" }, { path: "lamps.fill.dim", value: "100%" }, { path: "lamps.a.dim", value: "12.5 %" },
			{ path: "lamps.b.dim", value: "101 %" }, { path: "lamps.c.at", value: "1 2 3" }, { path: "lamps.d.dim" }])`, `{"lamps.key.dim":34,"lamps.fill.dim":100}`},
		{"glass.ts", `(() => { const t = (version, level, w = 1) => ({ version, level, weights: [[w], [2]] }), was = ["a", "b", "c", "d"].map(v => t(v, 1));
			const after = (...i) => was.map((x, k) => i.includes(k) ? t(x.version, 0.5) : t(x.version, 1));
			return [m.moving(was, was), m.moving(after(2), was), m.moving(after(0, 3), was), m.moving(after(0, 1, 3), was), m.moving(was, []), m.moving(was.slice(1), was),
				m.moving([t("e", 1), ...was.slice(1)], was), m.moving([t("a", 1, 3), ...was.slice(1)], was)]; })()`, `[[],[2],[0,3],[],[],[],[0],[0]]`},
	} {
		w.visit(compiled(t, c.source))
		w.await(`document.readyState === "complete" && location.protocol === "http:"`)
		var got string
		if w.run(fmt.Sprintf(`import("/%s").then(m => JSON.stringify(%s))`, strings.TrimSuffix(c.source, ".ts"), c.expression), &got); got != c.want {
			t.Errorf("%s: %s, want %s", c.source, got, c.want)
		}
	}
}
