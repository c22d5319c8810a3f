package plan

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/gear"
)

// Plan is a plan that has been read and found sound, with everything later stages need, so that they read no files.
type Plan struct {
	Document Document // the plan's own, absent fields at their defaults
	Places   document.Places
	Source   *document.Source
	Kit      *gear.Kit         // built in, with the plan's own kit files laid over it
	Files    map[string][]byte // the photometric and mesh files it names, by the name written

	files *files
}

// Read reads a plan and all the files it names. The file name serves the faults alone; open returns the bytes of a file
// by its name beside the plan, as the function that Beside returns does.
//
// The list holds every fault of the plan and of its set-ups in the order of the file, and notes; with any fault that is
// no note the plan is nil.
func Read(file string, text []byte, open func(name string) ([]byte, error)) (*Plan, fault.List) {
	source, err := document.Parse(file, text)
	if err != nil {
		return nil, fault.Of(err, fault.Input)
	}
	p := &Plan{Source: source, files: &files{open: open}}
	var form fault.List
	p.Places, form = source.Decode(&p.Document)
	if v := p.Document.Version; v > Version {
		return nil, fault.List{{Place: p.Places.At("gloam"), Path: "gloam", Read: fmt.Sprint(v),
			Text: "the plan is of a newer version than this program reads", Allowed: fmt.Sprintf("up to %d", Version)}}
	}
	all := gathered{}
	all.add(form)
	all.add(p.readKit())
	p.settle(&p.Document)
	all.add(p.checkAll(form))
	p.Files = p.files.read
	all.list.Sort()
	if all.list.Err() == nil {
		return p, all.list
	}
	if len(all.list) > mostFaults {
		last := all.list[mostFaults-1].Place
		all.list = append(all.list[:mostFaults], fault.Fault{Place: last, Text: "there are more faults", Hint: "mend those above first"})
	}
	return nil, all.list
}

// Bounds that keep a hostile plan from taking all day.
const (
	mostFaults = 500
	mostSetups = 100
)

// gathered is a list in which each fault stands once, however many set-ups show it.
type gathered struct {
	list fault.List
	seen map[fault.Fault]bool
}

func (g *gathered) add(list fault.List) {
	if g.seen == nil {
		g.seen = map[fault.Fault]bool{}
	}
	for _, f := range list {
		key := fault.Fault{Place: f.Place, Text: f.Text}
		if !g.seen[key] {
			g.seen[key] = true
			g.list = append(g.list, f)
		}
	}
}

// checkAll checks the plan's own document and each set-up.
func (p *Plan) checkAll(form fault.List) (faults fault.List) {
	own := p.checker(&p.Document, p.Places, form)
	setups := p.Document.Setups
	if len(setups) == 0 {
		own.check()
		own.checkWhole("")
		return own.faults
	}
	if n := len(setups); n > mostSetups {
		return fault.List{{Place: p.Places.At("setups"), Path: "setups", Text: fmt.Sprintf("%d set-ups are too many for one plan", n),
			Allowed: fmt.Sprintf("up to %d", mostSetups)}}
	}
	own.draft, own.later = true, map[string]bool{}
	for i := range setups {
		v, told := p.view(setups[i].Name)
		faults = append(faults, told...)
		faults = append(faults, p.checkSetup(v, told, form)...)
		for _, name := range v.declared {
			own.later[name] = true
		}
	}
	own.check()
	return append(own.faults, faults...)
}

// checkSetup checks a set-up whose own form has the faults told.
func (p *Plan) checkSetup(v *View, told, form fault.List) fault.List {
	c := p.checker(&v.Document, v.Places, slices.Concat(told, form))
	c.setup, c.left = v.Name, v.left
	c.check()
	if len(told) == 0 {
		c.checkWhole("")
	}
	for i, f := range c.faults {
		if f.Path == "" { // what the set-up as a whole lacks
			path := setupPath(v.Name)
			c.faults[i].Place, c.faults[i].Path = p.Places.At(path), string(path)
		}
	}
	return c.faults
}

func (p *Plan) checker(d *Document, places document.Places, form fault.List) *checker {
	return &checker{doc: d, places: places, kit: p.Kit, files: p.files, form: form}
}

// readKit lays the plan's own kit files over the built-in kit.
func (p *Plan) readKit() (faults fault.List) {
	p.Kit = gear.BuiltIn()
	for i, name := range p.Document.Kit {
		text, err := p.files.get(name)
		if err != nil {
			at := document.Path("kit").Item(i)
			for _, f := range fault.Of(err, fault.Input) {
				f.Place, f.Path, f.Read = p.Places.At(at), string(at), name
				faults = append(faults, f)
			}
			continue
		}
		own, told := gear.Read(name, text, func(beside string) ([]byte, error) {
			return p.files.get(path.Join(path.Dir(name), beside))
		})
		faults = append(faults, told...)
		if own != nil {
			p.Kit = p.Kit.With(own)
		}
	}
	return append(faults, p.Kit.Notes()...)
}

// Edit returns the plan's text with value at path; all else stays byte for byte. The error is a fault.Fault. The text
// has to be read again, which may find faults.
func (p *Plan) Edit(path, value string) ([]byte, error) {
	return p.Source.Edit(document.Path(path), value)
}

// tellFile tells what is wrong with a file that a plan names: the first fault, in the plan at the file's name.
func (c *checker) tellFile(at document.Path, name string, err error) {
	var first *fault.Fault
	more := 0
	for _, f := range fault.Of(err, fault.Input) {
		switch {
		case f.Kind == fault.Note:
			c.tell(at, fault.Fault{Kind: fault.Note, Text: inFile(f, name)})
		case first == nil:
			first = &f
		default:
			more++
		}
	}
	if first == nil {
		return
	}
	first.Text = inFile(*first, name)
	if more > 0 {
		first.Text += fmt.Sprintf(", and %d more faults", more)
	}
	c.tell(at, *first)
}

// inFile returns a fault's text with its place in the file before it.
func inFile(f fault.Fault, name string) string {
	if place := f.Place.String(); strings.HasPrefix(place, name) {
		return place + ": " + f.Text
	}
	return name + ": " + f.Text
}
