package web_test

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gloam/internal/cli"
)

// The page's chart in ink on paper is the terminal's, to the byte, and so are its windows.
func TestTheLightClockIsTheTerminals(t *testing.T) {
	folder := withExample(t, "atelier")
	file, drawn := filepath.Join(folder, "atelier.yaml"), filepath.Join(t.TempDir(), "day.svg")
	var out, told strings.Builder
	if code := cli.Run(context.Background(), []string{"clock", file, "--setup", "morning", "-o", drawn, "--json"}, &out, &told); code != 0 && code != 3 {
		t.Fatal(told.String())
	}
	want, err := os.ReadFile(drawn)
	if err != nil {
		t.Fatal(err)
	}
	address, token, _ := strings.Cut(served(t, folder), "#")
	r, err := http.NewRequest("GET", address+"api/clock?plan=atelier.yaml&setup=morning&width=1000", nil)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Gloam-Token", token)
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	var got struct {
		Charts struct{ Day string }
		Clock  any
	}
	lines := bufio.NewReader(answer.Body)
	for kind := ""; ; {
		line, err := lines.ReadString('\n')
		if k, found := strings.CutPrefix(line, "event: "); found {
			kind = k
		}
		if data, found := strings.CutPrefix(line, "data: "); found && kind == "clock\n" {
			if err := json.Unmarshal([]byte(data), &got); err != nil {
				t.Fatal(err)
			}
		}
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if got.Charts.Day != string(want) {
		t.Errorf("the page draws %d bytes, the terminal %d", len(got.Charts.Day), len(want))
	}
	var terminal any
	if err := json.Unmarshal([]byte(out.String()), &terminal); err != nil {
		t.Fatal(err)
	}
	if a, b := fmt.Sprint(got.Clock), fmt.Sprint(terminal); a != b {
		t.Errorf("the page says\n%s\nthe terminal\n%s", a, b)
	}
}

// A person works out the day, drags the hour and reads its levels, cancels, and plans it for another hour; in every theme
// all of it can be read.
func TestTheHourIsDragged(t *testing.T) {
	folder := withExample(t, "atelier")
	address := served(t, folder)
	w := launch(t).window(1280, 900)
	w.visit(address)
	w.await(`document.querySelector("a[href*='atelier']")`)
	w.run(`document.querySelector("a[href*='atelier']").click()`, nil)
	w.await(settled)
	press := func(text string) {
		w.run(fmt.Sprintf(`[...document.querySelectorAll(".clock button")].find(b => b.textContent.startsWith(%q)).click()`, text), nil)
	}
	press("Work out the day")
	w.await(`document.querySelector(".asked progress")`)
	press("Cancel")
	w.await(`!document.querySelector(".asked progress") && !document.querySelector(".hours")`)
	press("Work out the day")
	w.await(`document.querySelector(".hours img")?.complete && document.querySelector(".hours img").naturalWidth > 0`)
	var planned, windows string
	w.run(`document.querySelector(".athour").textContent`, &planned)
	w.run(`document.querySelector(".clock tbody").textContent`, &windows)
	if !strings.HasPrefix(planned, "10:00") || windows == "" {
		t.Errorf("at the plan's time %q, windows %q", planned, windows)
	}
	var sun, later string
	w.run(`document.querySelector(".sunmark").getAttribute("transform")`, &sun)
	var box struct{ X, Y, Width float64 }
	w.run(`(() => { document.querySelector(".hours").scrollIntoView({block: "center"}); const b = document.querySelector(".hours").getBoundingClientRect(), l = document.querySelector(".hourline").getBoundingClientRect(); return { x: l.x, y: b.y + b.height / 2, width: b.width }; })()`, &box)
	mouse := func(kind string, x float64) {
		w.must("Input.dispatchMouseEvent", map[string]any{"type": kind, "x": x, "y": box.Y, "button": "left", "buttons": 1, "clickCount": 1}, nil)
	}
	mouse("mousePressed", box.X)
	mouse("mouseMoved", box.X+box.Width*0.05)
	mouse("mouseMoved", box.X+box.Width*0.1)
	mouse("mouseReleased", box.X+box.Width*0.1)
	w.await(fmt.Sprintf(`document.querySelector(".athour").textContent !== %q`, planned))
	var hour string
	w.run(`document.querySelector(".athour b").textContent`, &hour)
	if hour < "12:00" || hour > "15:00" {
		t.Errorf("a tenth of the chart later it is %s", hour)
	}
	w.await(fmt.Sprintf(`document.querySelector("#print").textContent === "Picture at %s"`, hour))
	if w.run(`document.querySelector(".sunmark")?.getAttribute("transform") ?? "down"`, &later); later == sun {
		t.Errorf("the sun on the plan stays at %s", sun)
	}
	var target, point string // the target is this point's level over the key
	w.run(`document.querySelector(".athour span b").textContent`, &target)
	w.run(`[...document.querySelectorAll("details.athour tbody tr")].find(r => r.textContent.startsWith("painter.key side")).lastChild.textContent`, &point)
	if target == "" || point != target {
		t.Errorf("at %s the target stands at %q and its point at %q", hour, target, point)
	}
	for _, theme := range []string{"day", "night", "rain"} {
		w.run(fmt.Sprintf(`[...document.querySelectorAll(".themes button")].find(b => b.textContent === %q).click()`, theme), nil)
		for _, width := range []int{360, 1280} {
			w.resize(width, 900)
			var overflow int
			if w.run(`new Promise(r => requestAnimationFrame(() => requestAnimationFrame(() => r(document.documentElement.scrollWidth - document.documentElement.clientWidth))))`, &overflow); overflow > 0 {
				t.Errorf("%s at %d px: %d px stick out", theme, width, overflow)
			}
			if *shots != "" {
				w.run(`document.querySelector(".clock").scrollIntoView()`, nil)
				w.screenshot(filepath.Join(*shots, fmt.Sprintf("clock-%s-%d.png", theme, width)))
			}
		}
		w.contrast("clock, " + theme)
		w.axe("clock, " + theme)
	}
	press("Plan it for " + hour)
	w.await(`document.querySelector(".clock .asked")?.textContent.includes("the plan has changed since")`)
	w.await(`!localStorage.getItem("gloam.unsent.atelier.yaml")`)
	if text, _ := os.ReadFile(filepath.Join(folder, "atelier.yaml")); !strings.Contains(string(text), hour) {
		t.Errorf("the file does not say %s", hour)
	}
	w.blameless(address)
}
