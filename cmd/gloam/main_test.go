package main

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain lets the test program stand in for the command.
func TestMain(m *testing.M) { testscript.Main(m, map[string]func(){"gloam": main}) }

// long is a plan of nine hundred points in a room: seconds of work.
const long = `gloam: 1
title: A long walk
set: {rooms: {hall: {size: 12 x 4 x 3 m, walls: 0.7, openings: {window: {wall: far, size: 2 x 1 m}}}}}
walks: {in: {marks: [1 1, 10 1], every: 1 cm, faces: N}}
lamps: {lamp: {kit: P20, at: 6 3.5 2.5, aim: down}}
ambient: {sky: {reading: 200 lx, shape: overcast, at: 6 2 1, faces: up}}
camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8}
`

func start(t *testing.T, args ...string) (c *exec.Cmd, out, told *bytes.Buffer) {
	t.Helper()
	c = exec.Command("gloam", args...)
	out, told = &bytes.Buffer{}, &bytes.Buffer{}
	c.Stdout, c.Stderr = out, told
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	return c, out, told
}

func code(t *testing.T, err error) int {
	t.Helper()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		t.Fatal(err)
	}
	if exit == nil {
		return 0
	}
	return exit.ExitCode()
}

// The exit code says who has to act: 0 done, 1 the input is at fault, 2 the call is; for 4 see
// TestInterrupt.
func TestExitCodes(t *testing.T) {
	folder := t.TempDir()
	bad := filepath.Join(folder, "bad.yaml")
	if err := os.WriteFile(bad, []byte("gloam: 1\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		args []string
		code int
	}{
		{[]string{"quick", "--lamp", "250kcd", "--distance", "5m"}, 0}, {[]string{"--help"}, 0}, {nil, 0},
		{[]string{"check", bad}, 1}, {[]string{"levels", bad}, 1},
		{[]string{"levels"}, 2}, {[]string{"nosuch"}, 2}, {[]string{"quick"}, 2}, {[]string{"levels", "--nosuch", bad}, 2},
	} {
		c, out, told := start(t, row.args...)
		if got := code(t, c.Wait()); got != row.code {
			t.Errorf("gloam %s ends with %d, want %d: %s", strings.Join(row.args, " "), got, row.code, told)
		}
		if (out.Len() > 0) != (row.code == 0) || (told.Len() > 0) == (row.code == 0) {
			t.Errorf("gloam %s prints %q and tells %q", strings.Join(row.args, " "), out, told)
		}
	}
}

// Ctrl-C stops the work soon, with a word why, no answer, and exit code 4.
func TestInterrupt(t *testing.T) {
	plan := filepath.Join(t.TempDir(), "plan.yaml")
	if err := os.WriteFile(plan, []byte(long), 0o600); err != nil {
		t.Fatal(err)
	}
	for wait := 200 * time.Millisecond; wait < 5*time.Second; wait *= 2 {
		c, out, told := start(t, "levels", plan)
		time.Sleep(wait)
		if err := c.Process.Signal(os.Interrupt); err != nil {
			t.Skip("no interrupt can be sent on this machine:", err)
		}
		begin := time.Now()
		got := code(t, c.Wait())
		if got == -1 { // the program had not begun to listen yet
			continue
		}
		if got != 4 || out.Len() > 0 || !strings.Contains(told.String(), "stopped before the end") {
			t.Errorf("ends with %d, prints %.100q and tells %q", got, out, told)
		}
		if took := time.Since(begin); took > 5*time.Second {
			t.Errorf("takes %v to stop", took)
		}
		return
	}
	t.Error("never listens for an interrupt")
}
