package web_test

import (
	"bufio"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"
)

// browser is a Chromium driven over its debugging pipe: JSON messages that end in a zero byte.
type browser struct {
	t    *testing.T
	to   io.Writer
	mu   sync.Mutex
	next int
	open map[int]chan reply
	told func(session, method string, params json.RawMessage)
}

type reply struct {
	Result json.RawMessage
	Error  *struct{ Message string }
}

// launch starts a browser for a test, which is skipped where there is none.
func launch(t *testing.T) *browser {
	t.Helper()
	if testing.Short() {
		t.Skip("starts a browser")
	}
	program := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if found, err := exec.LookPath(name); err == nil {
			program = found
			break
		}
	}
	if program == "" {
		t.Skip("no Chromium here")
	}
	theirs, ours, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	answers, says, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(program, "--headless=new", "--remote-debugging-pipe", "--no-sandbox", "--disable-dev-shm-usage", "--no-first-run",
		"--disable-background-networking", "--enable-unsafe-swiftshader", "--disable-component-update", "--user-data-dir="+t.TempDir(), "about:blank")
	c.ExtraFiles = []*os.File{theirs, says}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	theirs.Close()
	says.Close()
	b := &browser{t: t, to: ours, open: map[int]chan reply{}}
	go b.read(answers)
	t.Cleanup(func() {
		b.send("", "Browser.close", nil)
		ended := make(chan struct{})
		go func() { c.Wait(); close(ended) }()
		select {
		case <-ended:
		case <-time.After(10 * time.Second):
			c.Process.Kill()
			<-ended
		}
		ours.Close()
		answers.Close()
	})
	return b
}

func (b *browser) read(from io.Reader) {
	messages := bufio.NewReader(from)
	for {
		text, err := messages.ReadBytes(0)
		if err != nil {
			return
		}
		var m struct {
			ID        int
			Method    string
			SessionID string
			Params    json.RawMessage
			reply
		}
		if json.Unmarshal(text[:len(text)-1], &m) != nil {
			continue
		}
		b.mu.Lock()
		waits, told := b.open[m.ID], b.told
		delete(b.open, m.ID)
		b.mu.Unlock()
		switch {
		case waits != nil:
			waits <- m.reply
		case m.Method != "" && told != nil:
			told(m.SessionID, m.Method, m.Params)
		}
	}
}

func (b *browser) send(session, method string, params any) chan reply {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.next++
	waits := make(chan reply, 1)
	b.open[b.next] = waits
	message := map[string]any{"id": b.next, "method": method}
	if params != nil {
		message["params"] = params
	}
	if session != "" {
		message["sessionId"] = session
	}
	text, err := json.Marshal(message)
	if err != nil {
		b.t.Fatal(err)
	}
	b.to.Write(append(text, 0))
	return waits
}

// window is one open page.
type window struct {
	*browser
	session string

	mu    sync.Mutex
	asked []string // addresses
	wrong []string // errors and refusals of the console
}

// window opens a page of a size.
func (b *browser) window(width, height int) *window {
	b.t.Helper()
	w := &window{browser: b}
	var made struct{ TargetID string }
	w.must("Target.createTarget", map[string]any{"url": "about:blank"}, &made)
	var attached struct{ SessionID string }
	w.must("Target.attachToTarget", map[string]any{"targetId": made.TargetID, "flatten": true}, &attached)
	w.session = attached.SessionID
	b.mu.Lock()
	before := b.told
	b.told = func(session, method string, params json.RawMessage) {
		if session == w.session {
			w.note(method, params)
		} else if before != nil {
			before(session, method, params)
		}
	}
	b.mu.Unlock()
	for _, domain := range []string{"Page", "Runtime", "Network", "Log"} {
		w.must(domain+".enable", nil, nil)
	}
	w.must("Emulation.setFocusEmulationEnabled", map[string]any{"enabled": true}, nil) // two windows, each with a hand in it
	w.must("Emulation.setScrollbarsHidden", map[string]any{"hidden": true}, nil)
	w.resize(width, height)
	return w
}

func (w *window) resize(width, height int) {
	w.t.Helper()
	w.must("Emulation.setDeviceMetricsOverride", map[string]any{"width": width, "height": height, "deviceScaleFactor": 1, "mobile": false}, nil)
}

func (w *window) note(method string, params json.RawMessage) {
	w.mu.Lock()
	defer w.mu.Unlock()
	switch method {
	case "Network.requestWillBeSent":
		var p struct{ Request struct{ URL string } }
		json.Unmarshal(params, &p)
		w.asked = append(w.asked, p.Request.URL)
	case "Runtime.exceptionThrown", "Log.entryAdded":
		if strings.Contains(string(params), `"source":"rendering"`) { // reading pixels back in a test is slow, the driver says
			return
		}
		if !strings.Contains(string(params), "net::ERR_") && !strings.Contains(string(params), "404 (Not Found)") { // a server killed, a picture overtaken
			w.wrong = append(w.wrong, string(params))
		}
	}
}

// must sends a command and reads its result.
func (w *window) must(method string, params, into any) {
	w.t.Helper()
	select {
	case r := <-w.send(w.session, method, params):
		if r.Error != nil {
			w.t.Fatalf("%s: %s", method, r.Error.Message)
		}
		if into != nil {
			if err := json.Unmarshal(r.Result, into); err != nil {
				w.t.Fatal(err)
			}
		}
	case <-time.After(60 * time.Second):
		w.t.Fatalf("%s: the browser does not answer", method)
	}
}

// run evaluates an expression, a promise awaited, and returns its value.
func (w *window) run(expression string, into any) {
	w.t.Helper()
	var r struct {
		Result           struct{ Value json.RawMessage }
		ExceptionDetails *struct {
			Text      string
			Exception struct{ Description string }
		}
	}
	w.must("Runtime.evaluate", map[string]any{"expression": expression, "awaitPromise": true, "returnByValue": true}, &r)
	if r.ExceptionDetails != nil {
		w.t.Fatalf("%s: %s %s", expression, r.ExceptionDetails.Text, r.ExceptionDetails.Exception.Description)
	}
	if into != nil && r.Result.Value != nil {
		if err := json.Unmarshal(r.Result.Value, into); err != nil {
			w.t.Fatal(err)
		}
	}
}

// await waits until an expression is true.
func (w *window) await(expression string) {
	w.t.Helper()
	for end := time.Now().Add(60 * time.Second); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		ok := false
		if w.run(fmt.Sprintf("!!(%s)", expression), &ok); ok {
			return
		}
	}
	var text string
	w.run("document.body.innerText", &text)
	w.mu.Lock()
	defer w.mu.Unlock()
	w.t.Fatalf("waited in vain for %s; the console says %s, the page\n%s", expression, w.wrong, text)
}

func (w *window) visit(address string) {
	w.t.Helper()
	w.must("Page.navigate", map[string]any{"url": address}, nil)
}

// screenshot writes the whole page as PNG.
func (w *window) screenshot(file string) {
	w.t.Helper()
	var shot struct{ Data string }
	w.must("Page.captureScreenshot", map[string]any{"captureBeyondViewport": true}, &shot)
	png, err := base64.StdEncoding.DecodeString(shot.Data)
	if err == nil {
		err = os.WriteFile(file, png, 0o644)
	}
	if err != nil {
		w.t.Fatal(err)
	}
}
