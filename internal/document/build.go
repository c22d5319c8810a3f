package document

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"

	"gloam/internal/fault"
)

// builder turns the library's tree into ours.
type builder struct {
	source  *Source
	at      map[*token.Token]span
	anchors map[string]*node
	faults  fault.List
}

// node builds the value n; one that is not written stands at offset.
func (b *builder) node(n ast.Node, offset int) *node {
	made := &node{}
	b.fill(made, n, offset)
	b.measure(made)
	return made
}

func (b *builder) fill(to *node, n ast.Node, offset int) {
	switch n := n.(type) {
	case *ast.MappingNode:
		b.mapping(to, n)
	case *ast.SequenceNode:
		b.list(to, n)
	case *ast.AnchorNode:
		name := n.Name.GetToken()
		b.anchors[name.Value] = to // open until its size is known
		b.fill(to, n.Value, b.at[name].end)
	case *ast.AliasNode:
		b.alias(to, n)
	case *ast.NullNode:
		to.span = span{offset, offset}
		if n.Token.Type != token.ImplicitNullType {
			to.span = b.where(n.Token)
		}
	case *ast.LiteralNode:
		to.kind, to.style, to.span = scalar, n.Start.Value[0], b.where(n.Start)
		to.text = n.Value.Value
		to.lines = b.at[n.Value.Token]
	case ast.ScalarNode:
		t := n.GetToken()
		to.kind, to.text, to.span = scalar, t.Value, b.where(t)
		if t.Type == token.SingleQuoteType || t.Type == token.DoubleQuoteType {
			to.style = b.source.text[to.span.start]
		}
		if to.style == 0 && (strings.Contains(to.text, ": ") || strings.HasSuffix(to.text, ":")) { // in braces the library lets it pass
			b.tell(to.span.start, fault.Fault{Text: "a second colon in one value", Read: to.text, Hint: "is a comma missing? Else put the value in quotes"})
		}
	default:
		panic("document: the syntax library has a new kind of node")
	}
}

// where returns the span of a token that must have been located.
func (b *builder) where(t *token.Token) span {
	where, ok := b.at[t]
	if !ok {
		panic("document: the syntax library made up a value")
	}
	return where
}

func (b *builder) mapping(to *node, n *ast.MappingNode) {
	to.kind, to.flow = mapping, n.IsFlowStyle
	for _, v := range n.Values {
		key := v.Key.GetToken()
		at := b.where(key)
		switch v.Key.(type) {
		case *ast.AnchorNode, *ast.AliasNode:
			b.tell(at.start, fault.Fault{Text: "a name cannot begin with & or *", Hint: "put it in quotes"})
			continue
		}
		e := entry{name: key.Value, lead: at.start, comma: b.comma(v.CollectEntry)}
		if v.Start == key {
			b.tell(at.start, fault.Fault{Text: "a name without a value", Read: key.Value, Hint: "inside { } a comma ends a value; is it a decimal comma? Put the value in quotes"})
		} else {
			e.sign = b.where(v.Start).end
		}
		e.value = b.node(v.Value, max(e.sign, at.end))
		to.entries = append(to.entries, e)
	}
	if n.IsFlowStyle {
		to.span = span{b.where(n.Start).start, b.where(n.End).end}
	} else if len(to.entries) > 0 {
		to.span = span{to.entries[0].lead, to.entries[len(to.entries)-1].value.end(b.source.text)}
	}
}

func (b *builder) list(to *node, n *ast.SequenceNode) {
	to.kind, to.flow = list, n.IsFlowStyle
	for i, v := range n.Values {
		var e entry
		if n.IsFlowStyle {
			e.comma = b.comma(n.Entries[i].Start)
			e.value = b.node(v, 0)
			e.lead = e.value.span.start
		} else {
			dash := b.where(n.Entries[i].Start)
			e = entry{lead: dash.start, sign: dash.end, comma: -1, value: b.node(v, dash.end)}
		}
		to.entries = append(to.entries, e)
	}
	if n.IsFlowStyle {
		to.span = span{b.where(n.Start).start, b.where(n.End).end}
	} else {
		to.span = span{to.entries[0].lead, to.entries[len(to.entries)-1].value.end(b.source.text)}
	}
}

// comma returns where a comma stands, -1 when t is none.
func (b *builder) comma(t *token.Token) int {
	if t == nil || t.Type != token.CollectEntryType {
		return -1
	}
	return b.where(t).start
}

func (b *builder) alias(to *node, n *ast.AliasNode) {
	name := n.Value.GetToken()
	to.span = span{b.where(n.Start).start, b.where(name).end}
	target, ok := b.anchors[name.Value]
	switch {
	case !ok:
		f := fault.Fault{Text: "no anchor of that name before it", Read: "*" + name.Value}
		if len(b.anchors) <= few {
			f.Hint = fault.Meant(name.Value, slices.Sorted(maps.Keys(b.anchors)))
		}
		b.tell(to.span.start, f)
	case target.size == 0:
		b.tell(to.span.start, fault.Fault{Text: "the alias stands inside its own anchor, without end", Read: "*" + name.Value})
	default:
		to.kind, to.target = alias, target
	}
}

// measure sets the size of a node whose parts are measured, and tells the first that is too big.
func (b *builder) measure(n *node) {
	n.size, n.weight, n.depth = 1, len(n.text), 1
	if n.kind == alias {
		n.size, n.weight, n.depth = n.target.size, n.target.weight, n.target.depth
	}
	for _, e := range n.entries {
		n.size += e.value.size
		n.weight += e.value.weight
		n.depth = max(n.depth, 1+e.value.depth)
	}
	var excess string
	switch {
	case n.size > maxValues:
		excess = fmt.Sprintf("%s when the aliases are unfolded", tooMany)
	case n.weight > maxBytes:
		excess = "more than 4 MiB when the aliases are unfolded"
	case n.depth > maxDepth:
		excess = tooDeep
	default:
		return
	}
	b.tell(n.span.start, fault.Fault{Text: excess})
	*n = node{span: n.span, size: 1, depth: 1} // told once: not again for what holds it
}

func (b *builder) tell(offset int, f fault.Fault) {
	if len(b.faults) < maxFaults {
		b.faults = append(b.faults, b.source.one(offset, f)...)
	}
}
