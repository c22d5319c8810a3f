package picture

import (
	"image"
)

// classMap holds the class of each pixel.
type classMap struct {
	width, height int
	class         []uint8
}

// border reports whether the class changes to the right or below.
func (m *classMap) border(x, y int) bool {
	i := y*m.width + x
	return x+1 < m.width && m.class[i] != m.class[i+1] || y+1 < m.height && m.class[i] != m.class[i+m.width]
}

// Number is a band's number where the map shows it: in the middle of x and y, in pixels from the top left.
type Number struct {
	X, Y  int
	Text  string
	White bool // to be read on its band; else black
	class uint8
}

// numbers returns each region's band where it is widest, if there is room for letters so high. Dots and hatch speak for
// themselves.
func (m *classMap) numbers(k key, hand *lettering) (all []Number) {
	depth := m.depths()
	for _, p := range m.widest(depth) {
		class := m.class[p]
		if class == noiseClass || class == clipClass {
			continue
		}
		text := k.label(class)
		if room := 2*int(depth[p]) - 1; room >= hand.width(text)+hand.height/2 && room >= hand.height {
			all = append(all, Number{p % m.width, p / m.width, text, letters(class) == white, class})
		}
	}
	return all
}

// depths returns for each pixel how far it is, in king's moves, from the nearest pixel of another class or the border.
func (m *classMap) depths() []int32 {
	d := make([]int32, len(m.class))
	// What lies before in reading order, then what lies behind: two passes find the distance of king's moves exactly.
	pass := func(x, y, step int) {
		p := y*m.width + x
		least := d[p]
		if step > 0 {
			least = int32(m.width + m.height)
		}
		for _, n := range [4]image.Point{{x - step, y}, {x - 1, y - step}, {x, y - step}, {x + 1, y - step}} {
			q := n.Y*m.width + n.X
			switch {
			case n.X < 0 || n.X >= m.width || n.Y < 0 || n.Y >= m.height || m.class[q] != m.class[p]:
				least = 1
			case d[q]+1 < least:
				least = d[q] + 1
			}
		}
		d[p] = least
	}
	for y := range m.height {
		for x := range m.width {
			pass(x, y, 1)
		}
	}
	for y := m.height - 1; y >= 0; y-- {
		for x := m.width - 1; x >= 0; x-- {
			pass(x, y, -1)
		}
	}
	return d
}

// widest returns the deepest pixel of each region, the first in reading order where several are; a region is what hangs
// together by its sides.
func (m *classMap) widest(depth []int32) (all []int) {
	seen := make([]bool, len(m.class))
	var stack []int
	for start := range m.class {
		if seen[start] {
			continue
		}
		best := start
		seen[start] = true
		stack = append(stack[:0], start)
		visit := func(inside bool, p, q int) {
			if inside && !seen[q] && m.class[q] == m.class[p] {
				seen[q] = true
				stack = append(stack, q)
			}
		}
		for len(stack) > 0 {
			p := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			if depth[p] > depth[best] || depth[p] == depth[best] && p < best {
				best = p
			}
			x := p % m.width
			visit(x > 0, p, p-1)
			visit(x < m.width-1, p, p+1)
			visit(p >= m.width, p, p-m.width)
			visit(p < len(m.class)-m.width, p, p+m.width)
		}
		all = append(all, best)
	}
	return all
}
