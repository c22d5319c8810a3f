package document

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"gloam/internal/fault"
)

// The types below stand for a plan: each kind of field once, with Texts of the tests' own.

type share float64

func (s *share) Parse(text string) error {
	number, percent := strings.CutSuffix(text, "%")
	x, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
	if err != nil || x != x {
		return errors.New("not a share")
	}
	if percent {
		x /= 100
	}
	if x > 1 {
		return fmt.Errorf("%s is above 100 %%", text)
	}
	*s = share(x)
	return nil
}

func (s *share) Forms() string { return "a share such as 60 % or 0.6" }

// asWritten keeps the text it was given.
type asWritten string

func (w *asWritten) Parse(text string) error { *w = asWritten(text); return nil }
func (w *asWritten) Forms() string           { return "anything" }

// metre is a Text whose error is a fault of its own.
type metre float64

func (m *metre) Parse(text string) error {
	x, err := strconv.ParseFloat(strings.TrimSuffix(text, " m"), 64)
	if err != nil || !strings.HasSuffix(text, " m") {
		return faultyLength
	}
	*m = metre(x)
	return nil
}

func (m *metre) Forms() string { return `a length such as 3.8 m or 12'6"` }

type spotAt struct {
	X metre `yaml:"x" required:"true"`
	Y metre `yaml:"y" required:"true"`
}

func (s *spotAt) ParseShort(text string) error {
	x, y, ok := strings.Cut(text, " ")
	if !ok {
		return errors.New("two lengths are wanted")
	}
	return errors.Join(s.X.Parse(x+" m"), s.Y.Parse(y+" m"))
}

func (s *spotAt) Forms() string { return "x and y such as 2.5 2.0" }

type sampleLamp struct {
	Kit    string  `yaml:"kit" required:"true" doc:"its name in the kit"`
	Dim    share   `yaml:"dim" default:"100 %" doc:"its control"`
	Height *metre  `yaml:"height"`
	At     spotAt  `yaml:"at"`
	Gels   []metre `yaml:"gels"`
}

type sampleSetup struct {
	Time asWritten `yaml:"time"`
	Rest Fragment  `yaml:"*"`
}

type sampleCamera struct {
	EI      int      `yaml:"ei" min:"25" max:"25600" required:"true"`
	Gamma   float64  `yaml:"gamma" min:"0" max:"4"`
	Side    string   `yaml:"side" words:"left|right"`
	Handed  []string `yaml:"handed" words:"left|right"`
	Locked  bool     `yaml:"locked"`
	Private int
}

type samplePlan struct {
	Scene  string               `yaml:"scene" required:"true" doc:"what the slate says"`
	Notes  string               `yaml:"notes"`
	Date   asWritten            `yaml:"date"`
	Camera *sampleCamera        `yaml:"camera"`
	Lamps  Named[sampleLamp]    `yaml:"lamps"`
	Walks  Named[[]spotAt]      `yaml:"walks"`
	Key    Named[asWritten]     `yaml:"key side"`
	Setups Named[sampleSetup]   `yaml:"setups"`
	Deep   [][]asWritten        `yaml:"deep"`
	Inline struct{ A, B metre } `yaml:"inline"`
}

var faultyLength = fault.Fault{Text: "no length", Hint: "put the unit behind the number"}

const samplePlanText = `# Sample plan

scene: 12A      # the slate
date: 2027-03-03
camera:
  ei: 800
  side: left
lamps:
  key: { kit: B12-D60, dim: 88 %, at: 2.5 2.0 }   # motivated by the window
  fill:
    kit: "B3-D55"
    height: 3.8 m

    # the card is white
    gels: [1 m, 2 m]
walks:
  entry:
    - 1.0 2.0
    - x: 2 m
      y: 3 m
key side:
  call: 18:35
  octal: 012
  big: 1e3
  word: yes
  low: 0x1F
notes: |
  Ask the owner about the
  curtain.
setups:
  dusk:
    time: 18:35
    lamps:
      key: { dim: 60 % }
`

const sampleFaultyText = `scene:
camera: { ei: 7, side: lefft }
lamps:
  key: { dim: 140 %, heigth: 3 m }
`

// value is one single value of a document.
type value struct {
	path Path
	text string
}

// flat lists the single values of a document in order; what is empty is listed with the text "".
func flat(s *Source) []value {
	var values []value
	var walk func(n *node, path Path)
	walk = func(n *node, path Path) {
		n = n.real()
		if len(n.entries) == 0 && path != "" {
			values = append(values, value{path, n.text})
		}
		for i, e := range n.entries {
			at := path.Item(i)
			if n.kind == mapping {
				at = path.Join(e.name)
			}
			walk(e.value, at)
		}
	}
	walk(s.root, "")
	return values
}

// checkEdited checks that out has value at path, the others as before.
func checkEdited(t interface {
	Helper()
	Errorf(string, ...any)
}, before []value, out []byte, path Path, text string) {
	t.Helper()
	s, err := Parse("f", out)
	if err != nil {
		t.Errorf("the edited text cannot be read: %v\n%s", err, out)
		return
	}
	want := map[Path]string{path: text}
	for _, v := range before {
		if v.path != path && !strings.HasPrefix(string(path), string(v.path)+".") && !strings.HasPrefix(string(path), string(v.path)+"[") {
			want[v.path] = v.text
		}
	}
	got := map[Path]string{}
	for _, v := range flat(s) {
		if _, twice := got[v.path]; !twice || v.path == path {
			got[v.path] = v.text
		}
	}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("after the edit at %s:\n got %v\nwant %v\n%s", path, got, want, out)
	}
}
