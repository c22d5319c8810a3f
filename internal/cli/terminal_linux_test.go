package cli

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"testing"
	"unsafe"
)

// terminalPair opens a pseudo-terminal: what is written to the one side is read from the other.
func terminalPair(t *testing.T) (screen, side *os.File) {
	t.Helper()
	screen, err := os.OpenFile("/dev/ptmx", os.O_RDWR, 0)
	if err != nil {
		t.Skip("no pseudo-terminal on this machine:", err)
	}
	var number, unlock int32
	for request, value := range map[uintptr]*int32{syscall.TIOCSPTLCK: &unlock, syscall.TIOCGPTN: &number} {
		if _, _, no := syscall.Syscall(syscall.SYS_IOCTL, screen.Fd(), request, uintptr(unsafe.Pointer(value))); no != 0 {
			t.Skip("no pseudo-terminal on this machine:", no)
		}
	}
	side, err = os.OpenFile(fmt.Sprintf("/dev/pts/%d", number), os.O_RDWR|syscall.O_NOCTTY, 0)
	if err != nil {
		t.Skip("no pseudo-terminal on this machine:", err)
	}
	t.Cleanup(func() { screen.Close(); side.Close() })
	return screen, side
}

// shown starts gloam with output, errors or both on a terminal and returns what that showed.
func shown(t *testing.T, env []string, out, told bool, args ...string) string {
	t.Helper()
	screen, side := terminalPair(t)
	c := exec.Command("gloam", args...)
	c.Env = append(os.Environ(), append([]string{"TERM=xterm", "NO_COLOR="}, env...)...)
	if out {
		c.Stdout = side
	}
	if told {
		c.Stderr = side
	}
	if err := c.Run(); err != nil {
		t.Fatal(err)
	}
	side.Close()
	text, _ := io.ReadAll(screen) // ends with an error when the other side is closed
	return string(text)
}

// On a terminal headings are set off by weight, and how far the work is stands on standard error until it is done.
// Elsewhere, and where plain text is asked for, neither.
func TestTerminal(t *testing.T) {
	slow(t)
	plan := plainPlan(t)
	const bold, wiped = "\x1b[1m", "\r\x1b[K"
	for _, row := range []struct {
		name      string
		env       []string
		out, told bool
		bold      bool
		progress  bool
	}{
		{"both on a terminal", nil, true, true, true, true},
		{"the answer on a terminal", nil, true, false, true, false},
		{"the answer in a file", nil, false, true, false, true},
		{"NO_COLOR", []string{"NO_COLOR=1"}, true, true, false, false},
		{"a terminal that can't", []string{"TERM=dumb"}, true, true, false, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			text := shown(t, row.env, row.out, row.told, "levels", plan)
			if got := strings.Contains(text, bold); got != row.bold {
				t.Errorf("bold is %v, want %v:\n%q", got, row.bold, text)
			}
			if got := strings.Contains(text, "points sure") && strings.Contains(text, wiped); got != row.progress {
				t.Errorf("progress is %v, want %v:\n%q", got, row.progress, text)
			}
			if plain := row.env != nil; plain && strings.Contains(text, "\x1b") {
				t.Errorf("escapes where plain text was asked for:\n%q", text)
			}
		})
	}
	if text := shown(t, nil, true, false, "levels", plan, "--json"); strings.Contains(text, "\x1b") {
		t.Errorf("a document with escapes:\n%.300q", text)
	}
}
