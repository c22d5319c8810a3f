package geometry

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"gloam/internal/fault"
)

// Bounds of what ReadOBJ takes in, so that a foreign file cannot fill the memory.
const (
	objBytes     = 256 << 20
	objLine      = 1 << 20
	objTriangles = 8_000_000
	objReach     = 1e9 // of a coordinate; past it float32 rays lose every digit
	objFaults    = 20
)

// ReadOBJ reads the vertices (v), vertex normals (vn) and faces (f) of a Wavefront OBJ file [OBJ]; everything else is
// passed over. Indices may be negative, counted back from the last one read. Polygons become fans from their first
// corner, which is right for convex ones. Coordinates are taken as they stand: metres, unless the caller scales.
//
// Triangles without area are left out; dropped says how many. The error is a fault.List with a place each: numbers that
// are none, corners that name no vertex, a file above 256 MiB or 8 million triangles, one without any triangle of area.
// The name stands in the messages only.
func ReadOBJ(name string, r io.Reader) (mesh Mesh, dropped int, err error) {
	o := &objReader{name: name, other: map[[2]int32]int32{}}
	if err := o.read(r); errors.Is(err, bufio.ErrTooLong) {
		o.tell(fault.Fault{Text: "the line is too long", Allowed: "lines of up to 1 MiB"})
	} else if err != nil {
		o.tell(fault.Fault{Kind: fault.Unfinished, Text: err.Error()})
	}
	if len(o.faults) == 0 && len(o.mesh.Triangles) == 0 {
		o.line = 0
		text := "the file holds no triangle"
		if o.dropped > 0 {
			text = fmt.Sprintf("all %d triangles have no area", o.dropped)
		}
		o.tell(fault.Fault{Text: text, Allowed: "faces (f) of three or more corners that are not in one line"})
	}
	if err := o.faults.Err(); err != nil {
		return Mesh{}, o.dropped, err
	}
	if !o.smooth {
		o.mesh.Normals = nil
	}
	return o.mesh, o.dropped, nil
}

// objReader is the state of one reading.
type objReader struct {
	name      string
	line      int
	mesh      Mesh
	positions []Vector
	normals   []Vector
	vertices  []objVertex        // for each position, the first vertex made of it
	other     map[[2]int32]int32 // (position, normal) to vertex, for any further ones
	smooth    bool
	dropped   int
	faults    fault.List
}

// objVertex is a vertex of the mesh made of a position and a normal (−1: none). index is 0 where none is made yet,
// else one more than the vertex.
type objVertex struct{ index, normal int32 }

var errEnough = errors.New("reading ends here, after too many faults")

func (o *objReader) tell(f fault.Fault) {
	f.Place = fault.Place{File: o.name, Line: o.line}
	o.faults = append(o.faults, f)
}

// read takes in the file line by line.
func (o *objReader) read(r io.Reader) error {
	limited := &io.LimitedReader{R: r, N: objBytes + 1}
	lines := bufio.NewScanner(limited)
	lines.Buffer(make([]byte, 64<<10), objLine)
	var joined []byte
	for lines.Scan() {
		o.line++
		text, more := bytes.CutSuffix(lines.Bytes(), []byte{'\\'})
		joined = append(joined, text...)
		if len(joined) > objLine {
			return bufio.ErrTooLong
		}
		if more {
			joined = append(joined, ' ')
			continue
		}
		if err := o.statement(string(joined)); err != nil {
			return err
		}
		joined = joined[:0]
	}
	if limited.N == 0 {
		o.tell(fault.Fault{Text: "the file is too large", Allowed: "up to 256 MiB"})
	}
	if lines.Err() != nil {
		o.line++ // the one that could not be read
	}
	return lines.Err()
}

// statement takes in one line. Its error means that reading on is no use.
func (o *objReader) statement(text string) error {
	text, _, _ = strings.Cut(text, "#")
	words := strings.Fields(text)
	if len(words) == 0 {
		return nil
	}
	switch words[0] {
	case "v":
		if v, ok := o.vector(words[1:], "a vertex"); ok {
			o.positions = append(o.positions, v)
			o.vertices = append(o.vertices, objVertex{})
		}
	case "vn":
		if v, ok := o.vector(words[1:], "a normal"); ok {
			o.normals = append(o.normals, v.Unit())
		}
	case "f":
		o.polygon(words[1:])
	}
	if len(o.mesh.Triangles)+o.dropped > objTriangles || len(o.positions) > objTriangles || len(o.normals) > objTriangles {
		o.tell(fault.Fault{Text: "the mesh is too large", Allowed: "up to 8 million triangles, vertices and normals",
			Hint: "thin the scan out before it comes in"})
		return errEnough
	}
	if len(o.faults) >= objFaults {
		return errEnough
	}
	return nil
}

// vector reads three numbers; further ones (a weight, a colour) are passed over.
func (o *objReader) vector(words []string, what string) (v Vector, ok bool) {
	if len(words) < 3 {
		o.tell(fault.Fault{Text: what + " has fewer than three numbers", Read: strings.Join(words, " ")})
		return v, false
	}
	for i, to := range []*float64{&v.X, &v.Y, &v.Z} {
		x, err := strconv.ParseFloat(words[i], 64)
		if err != nil || !(math.Abs(x) <= objReach) {
			o.tell(fault.Fault{Text: what + " has a coordinate that is no usable number", Read: words[i], Allowed: "numbers up to 1e9"})
			return v, false
		}
		*to = x
	}
	return v, true
}

// polygon reads a face and adds its fan.
func (o *objReader) polygon(words []string) {
	if len(words) < 3 {
		o.tell(fault.Fault{Text: "a face has fewer than three corners", Read: strings.Join(words, " ")})
		return
	}
	first, ok := o.corner(words[0])
	if !ok {
		return
	}
	last, ok := o.corner(words[1])
	for i := 2; ok && i < len(words); i++ {
		var next int32
		if next, ok = o.corner(words[i]); ok {
			o.triangle(first, last, next)
			last = next
		}
	}
}

// triangle adds one triangle, or counts it as dropped.
func (o *objReader) triangle(a, b, c int32) {
	p := o.mesh.Positions
	if n := p[b].Sub(p[a]).Cross(p[c].Sub(p[a])); n.Dot(n) == 0 {
		o.dropped++
		return
	}
	o.mesh.Triangles = append(o.mesh.Triangles, [3]int32{a, b, c})
}

// corner reads v, v/vt, v//vn or v/vt/vn and returns the vertex of the mesh for it.
func (o *objReader) corner(word string) (vertex int32, ok bool) {
	position, rest, _ := strings.Cut(word, "/")
	_, normal, _ := strings.Cut(rest, "/")
	p, ok := o.index(position, len(o.positions), word, "a vertex")
	if !ok {
		return 0, false
	}
	n := int32(-1)
	if normal != "" {
		if n, ok = o.index(normal, len(o.normals), word, "a normal"); !ok {
			return 0, false
		}
	}
	return o.vertex(p, n), true
}

// index returns the index a number of the file stands for: from 1 up, or back from the last with −1.
func (o *objReader) index(number string, count int, word, what string) (int32, bool) {
	i, err := strconv.Atoi(number)
	if i < 0 {
		i += count + 1
	}
	if err != nil || i < 1 || i > count {
		o.tell(fault.Fault{Text: "a corner names " + what + " that is not there", Read: word,
			Allowed: fmt.Sprintf("1 to %d, or −1 to −%d", count, count)})
		return 0, false
	}
	return int32(i - 1), true
}

// vertex returns the vertex of the mesh for a position with a normal (−1: none), and makes it at first use.
func (o *objReader) vertex(p, n int32) int32 {
	known := &o.vertices[p]
	if known.index != 0 && known.normal == n {
		return known.index - 1
	}
	if known.index != 0 {
		if v, ok := o.other[[2]int32{p, n}]; ok {
			return v
		}
	}
	v := int32(len(o.mesh.Positions))
	o.mesh.Positions = append(o.mesh.Positions, o.positions[p])
	normal := Vector{}
	if n >= 0 {
		normal, o.smooth = o.normals[n], true
	}
	o.mesh.Normals = append(o.mesh.Normals, normal)
	if known.index == 0 {
		*known = objVertex{v + 1, n}
	} else {
		o.other[[2]int32{p, n}] = v
	}
	return v
}
