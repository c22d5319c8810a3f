package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"math"
	"os"
	"os/exec"
	"strings"
	"testing"
)

// run carries out a call in this process.
func run(t *testing.T, ctx context.Context, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	var out, told bytes.Buffer
	code = Run(ctx, args, &out, &told)
	return code, out.String(), told.String()
}

// plainPlan writes the plain plan and returns its path.
func plainPlan(t *testing.T) string {
	t.Helper()
	folder := t.TempDir()
	write(t, folder, "plan.yaml", plain)
	return folder + "/plan.yaml"
}

// A call that was stopped could not finish: exit code 4, no answer, and a word why.
func TestCancelled(t *testing.T) {
	stopped, stop := context.WithCancel(context.Background())
	stop()
	plan := plainPlan(t)
	for _, args := range [][]string{
		{"levels", plan}, {"levels", "--json", plan}, {"levels", plan, "--explain", "sill"},
		{"quick", "--lamp", "250kcd", "--distance", "5m"}, {"quick", "--json", "--lamp", "250kcd", "--distance", "5m"},
	} {
		code, out, told := run(t, stopped, args...)
		if code != 4 || out != "" || !strings.Contains(told, "stopped before the end") {
			t.Errorf("%q ends with %d, prints %q and tells %q", args, code, out, told)
		}
	}
}

// full is an output with no room left.
type full struct{ room int }

func (f *full) Write(p []byte) (int, error) {
	if len(p) > f.room {
		n := f.room
		f.room = 0
		return n, errors.New("no space left")
	}
	f.room -= len(p)
	return len(p), nil
}

// An answer that could not be written whole is not given: exit code 4.
func TestFullDisk(t *testing.T) {
	plan := plainPlan(t)
	for _, args := range [][]string{
		{"check", plan}, {"check", "--json", plan}, {"levels", plan}, {"levels", plan, "--json"}, {"levels", plan, "--explain", "sill"},
		{"quick", "--lamp", "250kcd", "--distance", "5m"}, {"quick", "--help"}, {"completion", "bash"},
	} {
		for _, room := range []int{0, 10} {
			var told bytes.Buffer
			code := Run(context.Background(), args, &full{room}, &told)
			if code != 4 || !strings.Contains(told.String(), "no space left") {
				t.Errorf("%q with room for %d bytes ends with %d and tells %q", args[0], room, code, &told)
			}
		}
	}
}

func TestFullDevice(t *testing.T) {
	device, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip("no such device on this machine")
	}
	defer device.Close()
	c := exec.Command("gloam", "quick", "--lamp", "250kcd", "--distance", "5m")
	c.Stdout = device
	var exit *exec.ExitError
	if err := c.Run(); !errors.As(err, &exit) || exit.ExitCode() != 4 {
		t.Errorf("ends with %v, want exit code 4", err)
	}
}

// Every call gives the same bytes again, whatever its neighbours; nothing it reads or prints depends on a clock.
func TestSameBytesTwice(t *testing.T) {
	plan := plainPlan(t)
	for _, args := range [][]string{
		{"levels", plan}, {"levels", plan, "--json"}, {"levels", plan, "--explain", "maker.key side"}, {"levels", plan, "--black", "--seed", "7"},
		{"quick", "--lamp", "B12-D60", "--distance", "3m", "--cloth", "full grid 1.2 x 1.2 m at 1.5 m"},
	} {
		_, first, _ := run(t, context.Background(), args...)
		t.Setenv("TZ", "Pacific/Auckland")
		code, again, _ := run(t, context.Background(), args...)
		if code != 0 || first == "" || first != again {
			t.Errorf("%q prints\n%s\nand then, with %d,\n%s", args, first, code, again)
		}
	}
}

// Another seed samples otherwise, and agrees within what is printed.
func TestAnotherSeed(t *testing.T) {
	plan := plainPlan(t)
	levels := func(seed string) (l struct {
		Points []struct {
			Name   string
			Lux    float64 `json:"lux"`
			Stderr float64 `json:"stderr_stops"`
		}
	}) {
		_, out, _ := run(t, context.Background(), "levels", plan, "--json", "--seed", seed)
		if err := json.Unmarshal([]byte(out), &l); err != nil {
			t.Fatal(err)
		}
		return l
	}
	one, other := levels("1"), levels("2")
	differ := false
	for i, p := range one.Points {
		q := other.Points[i]
		differ = differ || p.Lux != q.Lux
		if apart := stopsApart(p.Lux, q.Lux); apart > 4*(p.Stderr+q.Stderr)+1e-9 {
			t.Errorf("%s: %g and %g lx, %.3f stop apart, where each is known to ±%.3f", p.Name, p.Lux, q.Lux, apart, p.Stderr)
		}
	}
	if !differ {
		t.Error("two seeds give the same digits")
	}
}

func stopsApart(a, b float64) float64 { return math.Abs(math.Log2(a / b)) }
