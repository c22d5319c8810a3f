package web_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// What the page works out without a browser is tested in Node, where it and npm ci's packages are.
func TestThePageWithoutABrowser(t *testing.T) {
	node, err := exec.LookPath("node")
	if _, missing := os.Stat("node_modules/typescript"); err != nil || missing != nil {
		t.Skip("no Node here, or no npm ci")
	}
	out := t.TempDir()
	if text, err := exec.Command(node, "node_modules/typescript/bin/tsc", "-p", "test", "--outDir", out).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	found, err := filepath.Glob(filepath.Join(out, "test", "*.test.js"))
	if err != nil || len(found) == 0 {
		t.Fatal("no test was built", err)
	}
	if text, err := exec.Command(node, append([]string{"--test"}, found...)...).CombinedOutput(); err != nil {
		t.Errorf("%v\n%s", err, text)
	}
}
