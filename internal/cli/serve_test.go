package cli

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gloam/internal/server"
)

// The page's question is answered in the terminal's lines and numbers.
func TestQuickReplyIsTheTerminals(t *testing.T) {
	var lines, document bytes.Buffer
	args := []string{"quick", "--lamp", "250kcd", "--distance", "5m", "--ambient", "640lx", "--want", "+2 over ambient"}
	if code := Run(context.Background(), args, &lines, io.Discard); code != 0 {
		t.Fatalf("exit code %d", code)
	}
	if code := Run(context.Background(), append(args, "--json"), &document, io.Discard); code != 0 {
		t.Fatalf("exit code %d", code)
	}
	r, err := quickReply(context.Background(), server.Question{"lamp": "250kcd", "distance": "5m", "ambient": "640lx", "want": "+2 over ambient"})
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(r.Lines, "\n") + "\n"; got != lines.String() {
		t.Errorf("the page shows\n%s\nthe terminal\n%s", got, lines.String())
	}
	numbers, err := json.MarshalIndent(r.QuickAnswer, "", "  ")
	if err != nil || string(numbers)+"\n" != document.String() {
		t.Errorf("%v: the page has\n%s\nthe terminal\n%s", err, numbers, document.String())
	}
	if _, err := quickReply(context.Background(), server.Question{"distance": "5m"}); err == nil || !strings.Contains(err.Error(), "--lamp") {
		t.Errorf("without a lamp: %v", err)
	}
}

func TestServePrintsWhereItIs(t *testing.T) {
	folder := t.TempDir()
	if err := os.WriteFile(filepath.Join(folder, "plan.yaml"), []byte("gloam: 1\ntitle: Here\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	out, in := io.Pipe()
	code := make(chan int)
	go func() { code <- Run(ctx, []string{"serve", folder}, in, io.Discard) }()
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	address, token, _ := strings.Cut(strings.TrimSpace(strings.TrimPrefix(line, "open ")), "#")
	if !strings.HasPrefix(address, "http://127.0.0.1:") {
		t.Errorf("it listens at %s", address)
	}
	r, err := http.NewRequest("GET", address+"api/plans", nil)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Gloam-Token", token)
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	if text, _ := io.ReadAll(answer.Body); !strings.Contains(string(text), `"title":"Here"`) {
		t.Errorf("it answers %s", text)
	}
	stop()
	if got := <-code; got != 0 {
		t.Errorf("interrupted, it ends with %d", got)
	}
}

func TestServeRefuses(t *testing.T) {
	for name, args := range map[string][]string{
		"sharing": {"--share"}, "two folders": {"a", "b"}, "no folder": {"not there"}, "a port that is none": {"--port", "70000"},
	} {
		t.Run(name, func(t *testing.T) {
			var told bytes.Buffer
			if code := Run(context.Background(), append([]string{"serve"}, args...), io.Discard, &told); code != 2 || told.Len() == 0 {
				t.Errorf("exit code %d, told %q", code, told.String())
			}
		})
	}
}
