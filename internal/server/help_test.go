package server

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"gloam/examples"
	"gloam/internal/fault"
)

// served is the environment variable that makes this program a server of the folder it names, so that a test can kill it.
const served = "GLOAM_TEST_SERVES"

func TestMain(m *testing.M) {
	if folder := os.Getenv(served); folder != "" {
		l, err := net.Listen("tcp", "127.0.0.1:0")
		if err != nil {
			panic(err)
		}
		s, err := New(config(folder))
		if err != nil {
			panic(err)
		}
		fmt.Println(Address(l, s.Token()))
		panic(s.Serve(context.Background(), l))
	}
	os.Exit(m.Run())
}

func config(folder string) Config {
	return Config{Folder: folder, Examples: examples.Plans, Page: fstest.MapFS{"index.html": {Data: []byte("<!doctype html>page")}},
		Quick: func(_ context.Context, q Question) (*QuickReply, error) {
			if q["lamp"] == "" {
				return nil, fault.Fault{Kind: fault.Call, Path: "--lamp", Text: "the lamp is missing", Hint: "give one"}
			}
			return &QuickReply{Lines: []string{"lamp " + q["lamp"]}}, nil
		}}
}

// client asks a server as its page does.
type client struct {
	t     *testing.T
	at    string // http://host:port
	token string
}

// running serves a folder until the test ends.
func running(t *testing.T, folder string) client {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	s, err := New(config(folder))
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- s.Serve(ctx, l) }()
	t.Cleanup(func() {
		stop()
		if err := <-ended; err != nil {
			t.Error(err)
		}
		s.Close()
	})
	return to(t, Address(l, s.Token()))
}

func to(t *testing.T, address string) client {
	at, token, _ := strings.Cut(address, "/#")
	return client{t, at, token}
}

// ask sends a request, changed by the caller, and returns status and body.
func (c client) ask(method, path string, body any, change func(*http.Request)) (int, string) {
	c.t.Helper()
	text, err := json.Marshal(body)
	if err != nil {
		c.t.Fatal(err)
	}
	if raw, ok := body.(string); ok {
		text = []byte(raw)
	}
	r, err := http.NewRequest(method, c.at+path, bytes.NewReader(text))
	if err != nil {
		c.t.Fatal(err)
	}
	r.Header.Set(tokenHeader, c.token)
	if body != nil {
		r.Header.Set("Content-Type", "application/json")
	} else {
		r.Body = http.NoBody
	}
	if change != nil {
		change(r)
	}
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		return 0, err.Error()
	}
	defer answer.Body.Close()
	all, err := io.ReadAll(answer.Body)
	if err != nil {
		c.t.Fatal(err)
	}
	return answer.StatusCode, string(all)
}

// must asks and reads the answer, which has to be a good one.
func (c client) must(method, path string, body, into any) {
	c.t.Helper()
	status, text := c.ask(method, path, body, nil)
	if status != http.StatusOK {
		c.t.Fatalf("%s %s: %d %s", method, path, status, text)
	}
	if err := json.Unmarshal([]byte(text), into); err != nil {
		c.t.Fatal(err)
	}
}

// event is one event of a stream.
type event struct {
	kind string
	data []byte
}

// listen opens the stream of a plan.
func (c client) listen(query string) <-chan event {
	c.t.Helper()
	return c.hear("/api/stream?" + query)
}

// hear opens a stream and returns its events.
func (c client) hear(path string) <-chan event {
	c.t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	c.t.Cleanup(stop)
	r, err := http.NewRequestWithContext(ctx, "GET", c.at+path, nil)
	if err != nil {
		c.t.Fatal(err)
	}
	r.Header.Set(tokenHeader, c.token)
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		c.t.Fatal(err)
	}
	c.t.Cleanup(func() { answer.Body.Close() })
	events := make(chan event, 1000)
	go func() {
		defer close(events)
		lines := bufio.NewScanner(answer.Body)
		lines.Buffer(nil, 8<<20)
		kind := ""
		for lines.Scan() {
			if k, found := strings.CutPrefix(lines.Text(), "event: "); found {
				kind = k
			} else if d, found := strings.CutPrefix(lines.Text(), "data: "); found {
				events <- event{kind, []byte(d)}
			}
		}
	}()
	return events
}

// await returns the first event that is wanted, read into its type.
func await[T any](t *testing.T, events <-chan event, kind string, want func(*T) bool) T {
	t.Helper()
	limit := time.After(60 * time.Second)
	for {
		select {
		case e, open := <-events:
			if !open {
				t.Fatalf("the stream ended before the %s", kind)
			}
			var v T
			if e.kind != kind {
				continue
			}
			if err := json.Unmarshal(e.data, &v); err != nil {
				t.Fatal(err)
			}
			if want(&v) {
				return v
			}
		case <-limit:
			t.Fatalf("waited in vain for the %s", kind)
		}
	}
}

// small is a plan that is quickly read.
const small = `gloam: 1
title: A table
camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8, at: 0 -3 1.5, aim: table}
lamps:
  key: {kit: B12-D26, at: 0 3 2, aim: table, dim: 60 %}
points:
  table: {at: 0 0 0.8, faces: key}
`

// withPlan is a folder with one plan.
func withPlan(t *testing.T, text string) string {
	t.Helper()
	folder := t.TempDir()
	if err := os.WriteFile(filepath.Join(folder, "table.yaml"), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return folder
}

func edit(base int, path, value string) map[string]any {
	return map[string]any{"base": base, "by": "test", "changes": []any{map[string]any{"path": path, "value": value}}}
}
