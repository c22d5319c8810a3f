//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package server

import (
	"strings"
	"testing"
)

// Of two servers on one folder the second is refused, also by another name of the folder; when the first ends it may have it.
func TestAFolderHasOneServer(t *testing.T) {
	folder := withPlan(t, small)
	first, err := New(config(folder))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{folder, folder + "/."} {
		if second, err := New(config(name)); err == nil || !strings.Contains(err.Error(), "another server") {
			second.Close()
			t.Errorf("the second server on %s: %v", name, err)
		}
	}
	first.Close()
	after, err := New(config(folder))
	if err != nil {
		t.Fatal(err)
	}
	after.Close()
}
