package plan

import (
	"fmt"
	"strings"

	"gloam/internal/document"
	"gloam/internal/fault"
	"gloam/internal/geometry"
	"gloam/internal/unit"
)

// checkSet tells what is wrong with rooms, ground and objects.
func (c *checker) checkSet() {
	for i := range c.doc.Set.Rooms {
		r := &c.doc.Set.Rooms[i]
		c.checkRoom(roomPath(r.Name), &r.Value)
	}
	if g := c.doc.Set.Ground; g != nil {
		c.material("set.ground.material", g.Material)
		c.between("set.ground.level", g.Level, lowest, highest)
	}
	if c.doc.Set.Haze != nil {
		c.checkHaze("set.haze", c.doc.Set.Haze)
	}
	for i := range c.doc.Set.Objects {
		o := &c.doc.Set.Objects[i]
		c.checkObject(document.Path("set.objects").Join(o.Name), &o.Value)
	}
}

// thickest and clearest are the least and the most of a visibility: smoke one cannot walk in, and air as clear as it gets.
const (
	thickest unit.Metre = 0.5
	clearest unit.Metre = 300_000
)

func (c *checker) checkHaze(path document.Path, h *Haze) {
	if (h.Extinction == nil) == (h.Visibility == nil) {
		c.lacks(path, fault.Fault{Text: "haze has an extinction or a visibility, one of them", Hint: "write haze: 0.05 /m"})
	}
	if h.Visibility != nil {
		c.between(path.Join("visibility"), *h.Visibility, thickest, clearest)
	}
	if h.In == "" {
		return
	}
	var rooms []string
	for _, r := range c.doc.Set.Rooms {
		if r.Name == h.In {
			return
		}
		rooms = append(rooms, r.Name)
	}
	c.unknown(path.Join("in"), h.In, rooms)
}

func (c *checker) checkRoom(path document.Path, r *Room) {
	c.where(path.Join("corner"), r.Corner)
	c.material(path.Join("walls"), r.Walls)
	c.material(path.Join("floor"), r.Floor)
	c.material(path.Join("ceiling"), r.Ceiling)
	if r.Size == (unit.Size3{}) {
		return // told already
	}
	if !c.sides(path.Join("size"), largestRoom, r.Size.Width, r.Size.Depth, r.Size.Height) {
		return
	}
	if most := r.Size.Width / 2; r.Vault < 0 || r.Vault > most {
		c.tell(path.Join("vault"), fault.Fault{Text: "a vault rises from 0 to half the room's width", Read: r.Vault.String(),
			Allowed: fmt.Sprintf("0 to %v", most)})
	}
	c.checkOpenings(path.Join("openings"), r)
}

// checkOpenings tells openings that do not fit their wall or each other.
func (c *checker) checkOpenings(path document.Path, r *Room) {
	all := Walls(geometry.Vector{}, r.Size)
	type placed struct {
		name string
		wall *Wall
		hole Hole
	}
	var before []placed
	for i := range r.Openings {
		name, o := r.Openings[i].Name, &r.Openings[i].Value
		at := path.Join(name)
		c.gel(at.Join("gel"), o.Gel)
		w := c.wallOf(at.Join("wall"), all, o.Wall, r.Vault > 0)
		if w == nil || o.Size == (unit.Size2{}) {
			continue
		}
		now := placed{name, w, o.HoleIn(w)}
		if !now.hole.within(w.Width, w.Height) {
			c.tell(at, fault.Fault{Text: fmt.Sprintf("does not fit into the %s wall", w.Name), Read: now.hole.String(), Allowed: wallSize(w)})
			continue
		}
		for _, b := range before {
			if b.wall == w && b.hole.overlaps(now.hole) {
				c.tell(at, faultText("overlaps %q in the same wall", b.name))
			}
		}
		before = append(before, now)
	}
}

func wallSize(w *Wall) string {
	return unit.Size2{Width: unit.Metre(w.Width), Height: unit.Metre(w.Height)}.String()
}

// String says how far the hole reaches.
func (h Hole) String() string {
	return fmt.Sprintf("from %v to %v, %v to %v up", unit.Metre(h.X), unit.Metre(h.X+h.W), unit.Metre(h.Y), unit.Metre(h.Y+h.H))
}

// wallOf returns the wall that a word names, or tells why it names none.
func (c *checker) wallOf(path document.Path, all []Wall, word string, vaulted bool) *Wall {
	if word == "" {
		return nil // told already
	}
	w, ok := FindWall(all, word, c.doc.Set.North)
	switch {
	case ok && w.Name == "ceiling" && vaulted:
		c.tell(path, faultText("a vault takes no opening"))
		return nil
	case !ok && w != nil && strings.Contains(strings.Join(wallWords, " "), word):
		c.tell(path, fault.Fault{Text: "lies between two walls", Read: word, Allowed: "left, right, near, far"})
		return nil
	case !ok:
		names := append([]string{"left", "right", "near", "far", "ceiling"}, wallWords...)
		c.tell(path, fault.Fault{Text: "there is no such wall", Read: word, Allowed: wallForms, Hint: fault.Meant(word, names)})
		return nil
	}
	return w
}

// checkObject tells what an object lacks for its kind.
func (c *checker) checkObject(path document.Path, o *Object) {
	c.where(path.Join("at"), &o.At)
	c.toward(path.Join("faces"), o.Faces)
	c.material(path.Join("material"), o.Material)
	if o.Kind == "" || !c.clean(path) {
		return
	}
	if o.Kind == "mesh" {
		c.checkMesh(path, o)
		return
	}
	solid := o.Kind == "box" || o.Kind == "table"
	sides := map[bool]string{true: "width, depth and height", false: "width and height"}[solid]
	switch {
	case o.Size == (Extent{}):
		c.lacks(path, fault.Fault{Text: fmt.Sprintf("a %s needs a size: %s", o.Kind, sides)})
	case (o.Size.Depth > 0) != solid:
		c.tell(path.Join("size"), fault.Fault{Text: fmt.Sprintf("a %s has %s", o.Kind, sides)})
	default:
		c.sides(path.Join("size"), largestRoom, o.Size.Width, max(o.Size.Depth, smallestSide), o.Size.Height)
	}
	if o.Kind == "mirror" && o.Faces == nil {
		c.lacks(path, faultText("a mirror needs faces: what it faces"))
	}
	if o.Kind == "slope" && (o.Rise <= -90 || o.Rise >= 90) {
		c.tell(path.Join("rise"), fault.Fault{Text: "a slope rises by less than a right angle", Read: o.Rise.String()})
	}
	if o.File != "" {
		c.tell(path.Join("file"), faultText("only a mesh has a file"))
	}
}

func (c *checker) checkMesh(path document.Path, o *Object) {
	if o.File == "" {
		c.lacks(path, faultText("a mesh needs a file: an OBJ file beside the plan"))
		return
	}
	if err := c.files.mesh(o.File); err != nil {
		c.tellFile(path.Join("file"), o.File, err)
	}
}

// checkMaterials tells materials of the plan's own that are none.
func (c *checker) checkMaterials() {
	for i := range c.doc.Materials {
		name, m := c.doc.Materials[i].Name, &c.doc.Materials[i].Value
		path := document.Path("materials").Join(name)
		f, err := parseFinish(name)
		switch {
		case err != nil || f.Word != name || f.Mirror:
			c.tell(path, fault.Fault{Text: fmt.Sprintf("the name %q reads as a reflectance or a mirror", name), Hint: "call it something else"})
		case !c.clean(path):
		default:
			if _, err := m.finish(); err != nil {
				c.tellErr(path, err, "")
			}
		}
	}
}
