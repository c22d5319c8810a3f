package web_test

import (
	"bufio"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"gloam/examples"
	"gloam/internal/cli"
)

// program is the environment variable that makes this program gloam, so that a test can kill it; it holds the arguments.
const program = "GLOAM_TEST_ARGUMENTS"

func TestMain(m *testing.M) {
	if arguments := os.Getenv(program); arguments != "" {
		os.Exit(cli.Run(context.Background(), strings.Split(arguments, "\n"), os.Stdout, os.Stderr))
	}
	os.Exit(m.Run())
}

// start starts gloam serve as a program of its own and returns it with the address it prints.
func start(t *testing.T, folder, port string) (*exec.Cmd, string) {
	t.Helper()
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), program+"=serve\n"+folder+"\n--port\n"+port)
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Process.Kill(); c.Wait() })
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	return c, strings.TrimPrefix(strings.TrimSpace(line), "open ")
}

// A lamp taken by hand goes where the hand goes, readings follow, and one undo brings it back.
func TestALampIsDragged(t *testing.T) {
	folder := withExample(t, "luthier")
	address := served(t, folder)
	w := launch(t).window(1280, 900)
	w.visit(address)
	w.await(`document.querySelector("a[href*='luthier']")`)
	w.run(`document.querySelector("a[href*='luthier']").click()`, nil)
	w.await(at(1))
	var box struct{ X, Y, Scale, PlanX, PlanY float64 }
	w.run(`(() => { const h = document.querySelector("[aria-label='key lamp, move'] .head").getBoundingClientRect();
		const m = document.querySelector("[aria-label='key lamp, move']").transform.baseVal.getItem(0).matrix;
		return { x: h.x + h.width / 2, y: h.y + h.height / 2, scale: document.querySelector(".groundplan .paper").getScreenCTM().a, planX: m.e, planY: -m.f }; })()`, &box)
	from, scale := box.X, box.Scale
	mouse := func(kind string, x, y float64) {
		w.must("Input.dispatchMouseEvent", map[string]any{"type": kind, "x": x, "y": y, "button": "left", "buttons": 1, "clickCount": 1}, nil)
	}
	mouse("mousePressed", from, box.Y)
	const steps = 20
	for i := range steps { // half a metre to the left
		mouse("mouseMoved", from-scale*0.5*float64(i+1)/steps, box.Y)
	}
	mouse("mouseReleased", from-scale*0.5, box.Y)
	w.await(`!localStorage.getItem("gloam.unsent.luthier.yaml") && document.querySelector("table[data-final=true]")?.dataset.revision > 1`)
	text, err := os.ReadFile(filepath.Join(folder, "luthier.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	var x, y, z float64
	i := strings.Index(string(text), "dusk: {lamps: {key lamp: {at: ")
	if i < 0 {
		t.Fatalf("the file does not say where the lamp went:\n%s", text)
	}
	if _, err := fmt.Sscanf(string(text)[i:], "dusk: {lamps: {key lamp: {at: %f %f %f", &x, &y, &z); err != nil {
		t.Fatal(err)
	}
	example, _ := examples.Plans.ReadFile("luthier/plan.yaml")
	w.run(`[...document.querySelectorAll("button")].find(b => b.textContent === "Undo").click()`, nil)
	w.await(`document.querySelector(".tools button:disabled")?.textContent === "Undo"`)
	w.await(settled)
	if text, _ := os.ReadFile(filepath.Join(folder, "luthier.yaml")); string(text) != string(example) {
		t.Errorf("after one undo the file is\n%s", text)
	}
	if dx, dy := x-box.PlanX, y-box.PlanY; dx < -0.6 || dx > -0.4 || dy < -0.1 || dy > 0.1 {
		// it is drawn to the grid, half of 0.1 m at the most; a pixel is about a centimetre here
		t.Errorf("the lamp went by %.3f, %.3f m, want −0.5, 0", dx, dy)
	}
	w.blameless(address)
}

// What is typed while the server is dead is kept by the page and on the disk soon after there is a server again.
func TestThePageOutlivesItsServer(t *testing.T) {
	folder := withExample(t, "luthier")
	server, address := start(t, folder, "0")
	w := launch(t).window(768, 900)
	w.visit(address)
	w.await(`document.querySelector("a[href*='luthier']")`)
	w.run(`document.querySelector("a[href*='luthier']").click()`, nil)
	w.await(at(1))
	drag := func(from, to int) {
		w.run(fmt.Sprintf(`(() => { const i = document.querySelector("input[type=range]"); i.dispatchEvent(new PointerEvent("pointerdown"));
			for (let v = %d; v >= %d; v--) { i.value = v; i.dispatchEvent(new Event("input", { bubbles: true })); } })()`, from, to), nil)
	}
	drag(80, 60)
	server.Process.Kill()
	server.Wait()
	drag(59, 31)
	w.await(`document.querySelector(".fault")?.textContent.includes("The server does not answer")`)
	var kept string
	w.run(`localStorage.getItem("gloam.unsent.luthier.yaml")`, &kept)
	if !strings.Contains(kept, "31 %") {
		t.Errorf("the page keeps %s", kept)
	}
	port := address[strings.LastIndex(address, ":")+1 : strings.Index(address, "/#")]
	_, address = start(t, folder, port)
	w.visit("about:blank")
	w.visit(address)
	w.await(`document.querySelector("a[href*='luthier']")`)
	w.run(`document.querySelector("a[href*='luthier']").click()`, nil)
	w.await(`document.querySelector("input[type=range]")?.value === "31" && !localStorage.getItem("gloam.unsent.luthier.yaml")`)
	if text, _ := os.ReadFile(filepath.Join(folder, "luthier.yaml")); !strings.Contains(string(text), "dusk: {lamps: {key lamp: {dim: 31 %}}}") {
		t.Errorf("the file does not say what was dragged:\n%s", text)
	}
}

var shots = flag.String("shots", "", "folder for screenshots of every view, theme and size, to be looked at")

// served serves a folder by the real command and returns the address it prints.
func served(t *testing.T, folder string) string {
	t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	out, in := io.Pipe()
	ended := make(chan int, 1)
	go func() { ended <- cli.Run(ctx, []string{"serve", folder}, in, io.Discard) }()
	t.Cleanup(func() {
		stop()
		<-ended
	})
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	return strings.TrimPrefix(strings.TrimSpace(line), "open ")
}

// withExample is a folder with an example.
func withExample(t *testing.T, name string) string {
	t.Helper()
	text, err := examples.Plans.ReadFile(name + "/plan.yaml")
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	if err := os.WriteFile(filepath.Join(folder, name+".yaml"), text, 0o644); err != nil {
		t.Fatal(err)
	}
	return folder
}

const settled = `document.querySelector("table[data-final=true]")`

// at is true once a revision's final readings are shown.
func at(revision int) string {
	return fmt.Sprintf(`document.querySelector("table[data-final=true][data-revision='%d']")`, revision)
}

// terminal returns what gloam levels prints of every point of a set-up.
func terminal(t *testing.T, file, setup string) string {
	t.Helper()
	var out, told strings.Builder
	if code := cli.Run(context.Background(), []string{"levels", file, "--setup", setup}, &out, &told); code != 0 {
		t.Fatal(told.String())
	}
	return out.String()
}

// The page shows the stops that the terminal prints of the file saved; an edit typed in one window is seen in another; the
// file says what was typed; undo takes it back.
func TestPageAndTerminalAgree(t *testing.T) {
	folder := withExample(t, "luthier")
	file := filepath.Join(folder, "luthier.yaml")
	address := served(t, folder)
	b := launch(t)
	one, two := b.window(1280, 900), b.window(390, 844)
	one.visit(address)
	one.await(`document.querySelector("a[href*='luthier']")`)
	one.run(`document.querySelector("a[href*='luthier']").click()`, nil)
	one.await(settled)
	two.visit(address[:strings.Index(address, "#")] + "#plan=luthier.yaml&setup=dusk")
	two.await(settled)
	one.agrees(file, "dusk", 6)
	one.run(`(() => { const i = document.querySelector("input[aria-label='key lamp, level, typed']"); i.focus(); i.select(); document.execCommand("insertText", false, "22 %"); i.blur(); })()`, nil)
	for _, w := range []*window{one, two} {
		w.await(`document.querySelector("input[aria-label='key lamp, level, typed']").value === "22 %" && ` + at(2))
	}
	if text, _ := os.ReadFile(file); !strings.Contains(string(text), "dusk: {lamps: {key lamp: {dim: 22 %}}}") {
		t.Errorf("the file does not say what was typed:\n%s", text)
	}
	one.agrees(file, "dusk", 6)
	two.agrees(file, "dusk", 6)
	two.run(`[...document.querySelectorAll("button")].find(b => b.textContent === "Undo").click()`, nil)
	one.await(`document.querySelector("input[aria-label='key lamp, level, typed']").value === "88 %"`)
	if text, _ := os.ReadFile(file); strings.Contains(string(text), "22 %") {
		t.Error("undone, the file still says it")
	}
	one.await(at(3))
	one.run(`document.querySelector("tbody button").click()`, nil)
	one.await(`document.querySelector(".made li")`)
	one.run(`document.querySelector(".made button").click()`, nil)
	one.await(`document.querySelector(".opened dt")`)
	for _, w := range []*window{one, two} {
		w.blameless(address)
	}
}

// agrees holds every point's stops and interval on the page to what the terminal prints of the file.
func (w *window) agrees(file, setup string, least int) {
	w.t.Helper()
	var rows [][]string
	w.run(`[...document.querySelectorAll("tbody tr")].filter(r => r.querySelector("[data-point]")).map(r => [r.querySelector("[data-point]").dataset.point, r.cells[1].textContent + " " + r.cells[2].textContent])`, &rows)
	printed := terminal(w.t, file, setup)
	if len(rows) < least {
		w.t.Fatalf("the page shows %d points", len(rows))
	}
	for _, r := range rows {
		found := false
		for line := range strings.Lines(printed) {
			found = found || strings.Contains(line, r[0]) && strings.Contains(strings.Join(strings.Fields(line), " "), r[1])
		}
		if !found {
			w.t.Errorf("the page shows %q at %s; the terminal prints\n%s", r[1], r[0], printed)
		}
	}
}

// blameless holds a window to what it may ask and to a clean console.
func (w *window) blameless(address string) {
	w.t.Helper()
	w.mu.Lock()
	defer w.mu.Unlock()
	at, _, _ := strings.Cut(address, "#")
	for _, a := range w.asked {
		if !strings.HasPrefix(a, at) && !strings.HasPrefix(a, "data:") && !strings.HasPrefix(a, "blob:"+at) && a != "about:blank" {
			w.t.Errorf("the page asked %s", a)
		}
	}
	for _, x := range w.wrong {
		w.t.Errorf("the console says %s", x)
	}
}

func TestTheTwoMinuteStart(t *testing.T) {
	address := served(t, t.TempDir())
	w := launch(t).window(390, 844)
	w.visit(address)
	w.await(`document.querySelector("form")`)
	w.run(`document.querySelector("form button").click()`, nil)
	w.await(`document.querySelector(".fault")?.textContent.includes("lamp: the lamp is missing")`)
	w.run(`for (const [k, v] of [["lamp", "250kcd"], ["distance", "5m"], ["ambient", "640lx"]]) document.querySelector("input[name=" + k + "]").value = v;
		document.querySelector("form button").click()`, nil)
	w.await(`document.querySelector(".answer .headline")`)
	var got string
	w.run(`document.querySelector(".answer .headline").textContent`, &got)
	var want strings.Builder
	cli.Run(context.Background(), []string{"quick", "--lamp", "250kcd", "--distance", "5m", "--ambient", "640lx"}, &want, io.Discard)
	if first, _, _ := strings.Cut(want.String(), "\n"); got != first {
		t.Errorf("the page answers %q, the terminal %q", got, first)
	}
	w.mu.Lock()
	w.wrong = nil // the browser tells of the refused question
	w.mu.Unlock()
	w.blameless(address)
}

// Every view, in every theme: nothing sticks out from a phone to a wide screen, and whoever sees or hears little can use it.
func TestEveryViewInEveryThemeAndSize(t *testing.T) {
	folder := withExample(t, "luthier")
	address := served(t, folder)
	w := launch(t).window(1280, 900)
	for _, view := range []string{"start", "sheet"} {
		w.visit(address)
		w.await(`document.querySelector("a[href*='luthier']")`)
		if view == "sheet" {
			w.run(`document.querySelector("a[href*='luthier']").click()`, nil)
			w.await(settled)
			w.await(`document.querySelector(".mounted canvas")`)
			w.run(`document.querySelector("tbody button").click()`, nil)
		}
		for _, theme := range []string{"day", "night", "rain"} {
			w.run(fmt.Sprintf(`[...document.querySelectorAll(".themes button")].find(b => b.textContent === %q).click()`, theme), nil)
			for _, width := range []int{360, 390, 768, 1280, 1920} {
				w.resize(width, 900)
				var overflow int
				if w.run(`new Promise(r => requestAnimationFrame(() => requestAnimationFrame(() => r(document.documentElement.scrollWidth - document.documentElement.clientWidth))))`, &overflow); overflow > 0 {
					t.Errorf("%s, %s at %d px: %d px stick out", view, theme, width, overflow)
				}
				if *shots != "" {
					w.screenshot(filepath.Join(*shots, fmt.Sprintf("%s-%s-%d.png", view, theme, width)))
				}
			}
			w.contrast(view + ", " + theme)
			w.axe(view + ", " + theme)
		}
	}
	w.blameless(address)
}

// contrast holds text to at least 7:1 on what lies behind it, by the formula of [WCAG22] 1.4.6; what lies on
// the print's mount, neutral grey whatever the theme, is left to axe.
func (w *window) contrast(where string) {
	w.t.Helper()
	var poor []string
	w.run(`(() => {
		const light = c => { const f = c.match(/[\d.]+/g).slice(0, 3).map(x => x / 255).map(x => x <= .04045 ? x / 12.92 : ((x + .055) / 1.055) ** 2.4); return .2126 * f[0] + .7152 * f[1] + .0722 * f[2]; };
		const behind = e => { for (; e; e = e.parentElement) { const c = getComputedStyle(e).backgroundColor; if (!/^rgba\(.*, 0\)$/.test(c)) return c; } return "rgb(255, 255, 255)"; };
		const out = new Set();
		for (const e of document.querySelectorAll("#page *")) {
			if (![...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim()) || e.closest(".mount, :disabled, title")) continue;
			const s = getComputedStyle(e), a = light(e.namespaceURI.endsWith("svg") ? s.fill : s.color), b = light(behind(e));
			const ratio = (Math.max(a, b) + .05) / (Math.min(a, b) + .05);
			if (ratio < 7) out.add(e.tagName + "." + (e.getAttribute("class") ?? "") + " " + ratio.toFixed(1));
		}
		return [...out];
	})()`, &poor)
	for _, p := range poor {
		w.t.Errorf("%s: contrast of %s", where, p)
	}
}

// axe runs the accessibility check axe-core where npm ci has brought it.
func (w *window) axe(where string) {
	w.t.Helper()
	source, err := os.ReadFile("node_modules/axe-core/axe.min.js")
	if err != nil {
		return
	}
	w.run(string(source)+"\n;0", nil)
	var found []struct {
		ID, Help string
		Nodes    []struct{ HTML string }
	}
	w.run(`axe.run().then(r => r.violations.map(v => ({id: v.id, help: v.help, nodes: v.nodes.map(n => ({html: n.html.slice(0, 200)}))})))`, &found)
	for _, v := range found {
		text, _ := json.Marshal(v.Nodes)
		w.t.Errorf("%s: axe: %s: %s %s", where, v.ID, v.Help, text)
	}
}
