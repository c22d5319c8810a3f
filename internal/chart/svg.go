package chart

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// family begins with the typeface that texts are measured with.
const family = "Go, Arial, 'Liberation Sans', sans-serif"

// SVG writes the drawing as a picture that scales and needs no script. Texts are texts. Each item carries its class and
// data-name; each scale is an empty group of class scale whose data-p0 and data-p1 are places in the drawing and data-v0 and
// data-v1 the values there, linear between. The error is the writer's.
func (d Drawing) SVG(w io.Writer) error {
	var b bytes.Buffer
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" id="%s" viewBox="0 0 %s %s" width="%[2]s" height="%[3]s" role="img" aria-labelledby="%[1]s-title %[1]s-desc" font-family="%[4]s">`+"\n",
		escape(d.ID), number(d.Width), number(d.Height), family)
	fmt.Fprintf(&b, "<title id=\"%s-title\">%s</title>\n<desc id=\"%[1]s-desc\">%[3]s</desc>\n", escape(d.ID), escape(d.Title), escape(d.Desc))
	for _, s := range d.Scales {
		s.svg(&b)
	}
	fmt.Fprintf(&b, `<rect class="ground" width="%s" height="%s" fill="%s"/>`+"\n", number(d.Width), number(d.Height), d.Ground)
	for _, item := range d.Items {
		item.svg(&b)
	}
	b.WriteString("</svg>\n")
	_, err := b.WriteTo(w)
	return err
}

func (s Scale) svg(b *bytes.Buffer) {
	direction := "x"
	if s.Vertical {
		direction = "y"
	}
	fmt.Fprintf(b, `<g class="scale" data-name="%s" data-unit="%s" data-along="%s" data-p0="%s" data-p1="%s" data-v0="%s" data-v1="%s"/>`+"\n",
		escape(s.Name), escape(s.Unit), direction, number(s.Places[0]), number(s.Places[1]), exact(s.Values[0]), exact(s.Values[1]))
}

func (i Item) svg(b *bytes.Buffer) {
	tag := "path"
	if i.Text != nil {
		tag = "text"
	}
	fmt.Fprintf(b, `<%s class="%s"`, tag, escape(i.Class))
	if i.Name != "" {
		fmt.Fprintf(b, ` data-name="%s"`, escape(i.Name))
	}
	if i.Text != nil {
		i.Text.svg(b)
		return
	}
	i.Shape.svg(b)
}

func (s *Shape) svg(b *bytes.Buffer) {
	b.WriteString(` d="`)
	for _, step := range s.Path {
		switch step.Op {
		case MoveTo:
			fmt.Fprintf(b, "M%s", place(step.To))
		case LineTo:
			fmt.Fprintf(b, "L%s", place(step.To))
		case CubicTo:
			fmt.Fprintf(b, "C%s %s %s", place(step.A), place(step.B), place(step.To))
		case Close:
			b.WriteString("Z")
		}
	}
	b.WriteString(`" fill="` + paint(s.Fill) + `"`)
	if s.Stroke != nil {
		fmt.Fprintf(b, ` stroke="%s" stroke-width="%s"`, s.Stroke, number(s.Width))
	}
	if s.Stroke != nil && len(s.Dash) > 0 {
		var dashes []string
		for _, length := range s.Dash {
			dashes = append(dashes, number(length))
		}
		fmt.Fprintf(b, ` stroke-dasharray="%s"`, strings.Join(dashes, " "))
	}
	b.WriteString("/>\n")
}

func (t *Text) svg(b *bytes.Buffer) {
	fmt.Fprintf(b, ` x="%s" y="%s" font-size="%s"`, number(t.X), number(t.Y), number(t.Size))
	if t.Bold {
		b.WriteString(` font-weight="700"`)
	}
	if t.Align != Left {
		fmt.Fprintf(b, ` text-anchor="%s"`, [...]string{"start", "middle", "end"}[t.Align])
	}
	fmt.Fprintf(b, ` fill="%s">%s</text>`+"\n", t.Colour, escape(t.String))
}

func paint(c *Colour) string {
	if c == nil {
		return "none"
	}
	return c.String()
}

func place(p XY) string { return number(p.X) + " " + number(p.Y) }

// number prints a length to a hundredth.
func number(x float64) string {
	return exact(math.Round(x*100)/100 + 0) // + 0 takes the sign off a zero
}

func exact(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// escape returns a text for element or attribute; what XML cannot hold becomes U+FFFD.
func escape(text string) string {
	var b strings.Builder
	if err := xml.EscapeText(&b, []byte(text)); err != nil {
		panic("chart: a builder of strings refused one")
	}
	return b.String()
}
