package cli

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// mostMemory is what a call may take at its peak whatever it is given, in bytes.
const mostMemory = 500 << 20

// slow leaves out of the quick set what starts the program dozens of times. Races are looked for in that set, and the
// tests that call Run in this process find them.
func slow(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("starts many processes")
	}
}

// call starts the real program in a folder and returns how it ended. It may not panic nor take more than mostMemory.
func call(t *testing.T, folder string, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	c := exec.Command("gloam", args...)
	var out, told bytes.Buffer
	c.Dir, c.Stdout, c.Stderr = folder, &out, &told
	var exit *exec.ExitError
	if err := c.Run(); errors.As(err, &exit) {
		code = exit.ExitCode()
	} else if err != nil {
		t.Fatal(err)
	}
	peak := peakMemory(c.ProcessState)
	t.Logf("gloam %s: %d MiB", strings.Join(args, " "), peak>>20)
	if peak > mostMemory {
		t.Error("takes too much memory")
	}
	if code < 0 || strings.Contains(told.String(), "panic") || strings.Contains(told.String(), "goroutine ") {
		t.Errorf("gloam %s ends with %d:\n%.2000s", strings.Join(args, " "), code, &told)
	}
	return code, out.String(), told.String()
}

// plain is a sound plan that a case changes in one place.
const plain = `gloam: 1
title: A test
set: {rooms: {shop: {size: 5 x 4 x 3 m, openings: {window: {wall: far, size: 2 x 1 m}}}}}
marks: {stool: 2 2, door: 4 2}
people: {maker: {at: stool, faces: E, key: left}}
points: {sill: {at: 2 3.5 1, faces: S}}
walks: {in: {marks: [door, stool]}}
lamps: {lamp: {kit: B12-D60, at: 4 1 2, aim: maker, dim: 50 %, colour: 3200 K}}
cloths: {card: {kind: muslin, size: 1 x 1 m, at: 1 1 1, faces: maker}}
ambient: {sky: {reading: 640 lx, point: maker.front, shape: everywhere}}
camera: {ei: 800, fps: 24, shutter: 180 deg, stop: T2.8}
`

// bad is one thing wrong with the plain plan, and what the one fault that tells of it says.
type bad struct {
	name, old, new string
	want           string // a regular expression
}

var badPlans = []bad{
	{"no source of light", plain[strings.Index(plain, "lamps:"):strings.Index(plain, "camera:")], "", `there is no source of light; allowed: one or more under lamps, practicals or ambient`},
	{"a point inside a wall", "at: 2 3.5 1", "at: 2 4 0.4", `points.sill.at: is in the far wall of "shop"`},
	{"a lamp aimed at nothing", "aim: maker", "aim: makar", `lamps.lamp.aim: nothing is called "makar"; did you mean "maker"\?`},
	{"a lamp aimed nowhere", "aim: maker, ", "", `lamps.lamp.aim|lamps.lamp: .*aim`},
	{"a lamp aimed at itself", "aim: maker", "aim: lamp", `lamps.lamp.aim: the lamp is aimed at itself`},
	{"a frame of no size", "kind: muslin, size: 1 x 1 m", "kind: muslin, size: 0 x 1 m", `cloths.card.size: .*read "0 x 1 m"`},
	{"a dim of 140 %", "dim: 50 %", "dim: 140 %", `lamps.lamp.dim: 140 % is above 100 %`},
	{"0 K", "colour: 3200 K", "colour: 0 K", `lamps.lamp.colour: .*0 K`},
	{"NaN", "reading: 640 lx", "reading: NaN lx", `ambient.sky.reading: .*NaN`},
	{"an infinite place", "at: 4 1 2", "at: Inf 1 2", `lamps.lamp.at: .*Inf`},
	{"a walk of one mark", "[door, stool]", "[door]", `walks.in.marks: a walk leads from one mark to another: it needs two or more`},
	{"a mass for a distance", "size: 5 x 4 x 3 m", "size: 5 x 4 x 3 kg", `set.rooms.shop.size: is a mass, a length is wanted`},
	{"a length for a level", "640 lx", "640 m", `ambient.sky.reading: is a length`},
	{"two things of one name", "marks: {stool: 2 2, door", "marks: {lamp: 1 1, stool: 2 2, door", `the name "lamp" is taken: line 4 has a mark of that name`},
	{"one name twice in a list", "stool: 2 2, door", "stool: 2 2, stool: 3 3, door", `marks.stool: written twice: first in line 4`},
	{"a cycle", "stool: 2 2, door: 4 2", "stool: 1 m from door bearing 0, door: 1 m from stool bearing 0", `stool|door`},
	{"an unknown lamp", "B12-D60", "B12-D66", `lamps.lamp.kit: the kit has no lamp of that name; read "B12-D66"; did you mean`},
	{"an unknown cloth", "kind: muslin", "kind: muslim", `cloths.card.kind: the kit has no cloth of that name; read "muslim"; did you mean "muslin"\?`},
	{"an unknown field", "dim: 50 %", "level: 50 %", `lamps.lamp.*"level"`},
	{"a version to come", "gloam: 1", "gloam: 99", `newer`},
	{"no YAML", "marks: {", "marks: {{", `plan.yaml:4:`},
	{"a file of another folder", "kit: B12-D60", "kit: B12-D60, photometry: ../lamp.ies", `lamps.lamp.photometry: .*plan's own folder`},
	{"a file of the machine", "kit: B12-D60", "kit: B12-D60, photometry: /etc/passwd", `lamps.lamp.photometry: .*plan's own folder`},
}

// Each thing that can be wrong is one clear fault with its place, and the same for check and for levels.
func TestBadPlans(t *testing.T) {
	slow(t)
	for _, row := range badPlans {
		t.Run(row.name, func(t *testing.T) {
			if strings.Count(plain, row.old) != 1 {
				t.Fatalf("%q stands %d times in the plan", row.old, strings.Count(plain, row.old))
			}
			folder := t.TempDir()
			write(t, folder, "plan.yaml", strings.Replace(plain, row.old, row.new, 1))
			var first string
			for _, command := range []string{"check", "levels"} {
				code, out, told := call(t, folder, command, "plan.yaml")
				if code != 1 || out != "" {
					t.Errorf("%s ends with %d and prints %q", command, code, out)
				}
				if strings.Count(told, "\n") != 1 || !strings.HasPrefix(told, "plan.yaml:") || !regexp.MustCompile(row.want).MatchString(told) {
					t.Errorf("%s tells\n%swant one line with a place and %q", command, told, row.want)
				}
				if command == "check" {
					first = told
				} else if told != first {
					t.Errorf("levels tells\n%swhere check tells\n%s", told, first)
				}
			}
		})
	}
}

// Whatever is wrong is told at once, each thing once.
func TestBadAtOnce(t *testing.T) {
	text := plain
	apart := map[string]bool{"a lamp aimed at nothing": true, "a frame of no size": true, "a dim of 140 %": true, "0 K": true, "NaN": true,
		"a walk of one mark": true, "a mass for a distance": true, "an unknown lamp": true, "an unknown cloth": true}
	n := 0
	for _, row := range badPlans {
		if apart[row.name] {
			text = strings.Replace(text, row.old, row.new, 1)
			n++
		}
	}
	text = strings.Replace(text, "kind: muslin", "kind: muslim", 1)
	folder := t.TempDir()
	write(t, folder, "plan.yaml", text)
	_, _, told := call(t, folder, "check", "plan.yaml")
	if got := strings.Count(told, "\n"); got != n {
		t.Errorf("%d faults for %d things that are wrong:\n%s", got, n, told)
	}
	for _, row := range badPlans {
		if apart[row.name] && !regexp.MustCompile(row.want).MatchString(told) {
			t.Errorf("%s is not told of in\n%s", row.name, told)
		}
	}
}

func write(t *testing.T, folder, name, text string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// Hostile files beside a sound plan, and hostile plans: one clear fault, and no more memory than a large scene takes.
func TestHostileFiles(t *testing.T) {
	slow(t)
	mesh := "set: {objects: {rock: {kind: mesh, file: rock.obj, at: 1 3}}, rooms: {shop: 5 x 4 x 3 m}}\n"
	setLine := plain[strings.Index(plain, "set:"):strings.Index(plain, "marks:")]
	withMesh := strings.Replace(plain, setLine, mesh, 1)
	withFile := strings.Replace(plain, "kit: B12-D60", "photometry: lamp.ies", 1)
	withKit := strings.Replace(plain, "title: A test", "title: A test\nkit: [kit.yaml]", 1)
	million := strings.Repeat("f 1 1 2\n", 1_000_000)
	for _, row := range []struct {
		name, plan, file, text string
		want                   string
	}{
		{"a mesh of a million triangles without area", withMesh, "rock.obj", "v 0 0 0\nv 1 0 0\n" + million, `rock.obj: all 1000000 triangles have no area`},
		{"a mesh of numbers that are none", withMesh, "rock.obj", "v 0 0 NaN\nv 1 0 0\nv 0 1 0\nf 1 2 3\n", `rock.obj:1`},
		{"a mesh with corners that are not there", withMesh, "rock.obj", "v 0 0 0\nf 1 2 99999999999999999999\n", `rock.obj:2`},
		{"a mesh in one long line", withMesh, "rock.obj", "v " + strings.Repeat("0 ", 2_000_000), `rock.obj:1.*too long`},
		{"a photometric file of 1e18 angles", withFile, "lamp.ies", "IESNA:LM-63-2002\nTILT=NONE\n1 1000 1 1e18 1 1 2 0 0 0\n1 1 100\n", `lamp.ies:3:10: the file declares too many intensities`},
		{"a photometric file of 1e9 by 1e9 angles", withFile, "lamp.ies", "IESNA:LM-63-2002\nTILT=NONE\n1 1000 1 1e9 1e9 1 2 0 0 0\n1 1 100\n", `lamp.ies:3`},
		{"a photometric file of no words", withFile, "lamp.ies", strings.Repeat("\x00\xff", 1<<20), `lamp.ies: neither`},
		{"a bomb of aliases", withKit, "kit.yaml", aliases, `kit.yaml:`},
		{"a plan that is a bomb of aliases", aliases, "", "", `plan.yaml:`},
		{"a plan a thousand levels deep", "gloam: " + strings.Repeat("[", 1000) + strings.Repeat("]", 1000), "", "", `plan.yaml:1:`},
		{"a plan of a million entries", "gloam: 1\ntitle: x\nmarks: {" + entries(200_000) + "}\n", "", "", `plan.yaml:`},
		{"a plan of 20 MB", plain + strings.Repeat("# and so on\n", 2_000_000), "", "", `plan.yaml.*(large|big|long)`},
		{"a walk of a billion points", strings.Replace(plain, "[door, stool]}", "[door, stool], every: 1 mm}", 1), "", "", `walks.in.every: .*too many points`},
	} {
		t.Run(row.name, func(t *testing.T) {
			folder := t.TempDir()
			write(t, folder, "plan.yaml", row.plan)
			if row.file != "" {
				write(t, folder, row.file, row.text)
			}
			code, out, told := call(t, folder, "levels", "plan.yaml")
			if code != 1 || out != "" {
				t.Errorf("ends with %d and prints %.200q", code, out)
			}
			if !regexp.MustCompile(row.want).MatchString(told) || len(told) > 100_000 {
				t.Errorf("tells\n%.2000s\nwant %q", told, row.want)
			}
		})
	}
}

// aliases is the bomb of ten times ten times ten.
const aliases = `a: &a [x,x,x,x,x,x,x,x,x,x]
b: &b [*a,*a,*a,*a,*a,*a,*a,*a,*a,*a]
c: &c [*b,*b,*b,*b,*b,*b,*b,*b,*b,*b]
d: &d [*c,*c,*c,*c,*c,*c,*c,*c,*c,*c]
e: &e [*d,*d,*d,*d,*d,*d,*d,*d,*d,*d]
f: &f [*e,*e,*e,*e,*e,*e,*e,*e,*e,*e]
g: &g [*f,*f,*f,*f,*f,*f,*f,*f,*f,*f]
h: &h [*g,*g,*g,*g,*g,*g,*g,*g,*g,*g]
i: &i [*h,*h,*h,*h,*h,*h,*h,*h,*h,*h]
`

func entries(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString("m")
		b.WriteString(strings.Repeat("i", i%7))
		b.WriteString(": 1 1, ")
	}
	return b.String()
}

// A mesh most of whose triangles have no area is used without them, with a note.
func TestMeshWithDegenerateTriangles(t *testing.T) {
	slow(t)
	folder := t.TempDir()
	write(t, folder, "rock.obj", "v 0 0 0\nv 1 0 0\nv 0 0 1\nf 1 2 3\n"+strings.Repeat("f 1 1 2\n", 1_000_000))
	write(t, folder, "plan.yaml", strings.Replace(plain, "set: {", "set: {objects: {rock: {kind: mesh, file: rock.obj, at: 1 3}}, ", 1))
	code, out, told := call(t, folder, "levels", "plan.yaml")
	if code != 0 || !strings.Contains(out, "maker.front") || !strings.Contains(told, "rock.obj: triangles without area, left out: 1000000") {
		t.Errorf("ends with %d, prints %.100q and tells %q", code, out, told)
	}
}

// A file without an end is read up to a bound.
func TestEndlessFiles(t *testing.T) {
	slow(t)
	if _, err := os.Stat("/dev/zero"); err != nil {
		t.Skip("no endless file on this machine")
	}
	for _, command := range []string{"check", "levels", "photometry"} {
		if code, out, told := call(t, t.TempDir(), command, "/dev/zero"); code != 1 || out != "" || told == "" {
			t.Errorf("%s of an endless file ends with %d: %.200s", command, code, told)
		}
	}
}
