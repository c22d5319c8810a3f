package document

import "strings"

// cutFlow returns the changes that remove entry i of a mapping in braces or a list in brackets, with one comma.
func (s *Source) cutFlow(n *node, i int) []change {
	e := n.entries[i]
	end := e.value.end(s.text)
	if len(n.entries) == 1 {
		return []change{{span{n.span.start + 1, n.span.end - 1}, ""}}
	}
	comma, between, whole := e.comma, span{e.comma, e.lead}, span{e.comma, end}
	if i == 0 {
		next := n.entries[1]
		comma, between, whole = next.comma, span{end, next.lead}, span{e.lead, next.lead}
	}
	if strings.Trim(s.text[between.start:between.end], " ,") == "" {
		return []change{{whole, ""}}
	}
	return []change{{span{e.lead, end}, ""}, {span{comma, comma + 1}, ""}}
}

// cutBlock returns the changes that remove entry i of a mapping or list on lines of its own.
func (s *Source) cutBlock(n *node, i int) []change {
	e := n.entries[i]
	start, end := lineStart(s.text, e.lead), e.value.end(s.text)
	if strings.TrimLeft(s.text[start:e.lead], " ") == "" {
		return []change{{span{start, s.ownComments(end, e.lead-start)}, ""}}
	}
	// A dash or a mark of the document stands before it and stays; what follows takes its place.
	if i+1 == len(n.entries) {
		return []change{{span{e.lead, end}, ""}}
	}
	return []change{{span{e.lead, s.afterBlanks(lineEnd(s.text, end))}, ""}}
}

// ownComments returns the end of the lines of an entry whose value ends at end: with the comments below it that stand
// deeper than its indent. Left where they are, they would become part of a text on lines above it.
func (s *Source) ownComments(end, indent int) int {
	stop := min(lineEnd(s.text, end)+1, len(s.text))
	for at := stop; at < len(s.text); {
		next := min(lineEnd(s.text, at)+1, len(s.text))
		switch body := strings.TrimLeft(s.text[at:next], " \t"); {
		case strings.HasPrefix(body, "#") && depth(s.text, at) > indent:
			stop = next
		case body != "\n":
			return stop
		}
		at = next
	}
	return stop
}
