package cycle

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"

	"flipcalc/mirror/block"
)

// keep writes the block into the piece, without the dropped words and N, and with
// a prefix before its first word.
func (c *cutter) keep(drop []*block.Word, prefix string) {
	line := c.text[c.b.Start:c.b.End]
	type span struct{ from, to int }
	var gone []span
	for _, w := range drop {
		gone = append(gone, span{int(w.Start) - c.b.Start, int(w.End) - c.b.Start})
	}
	if n, ok := numberSpan(line); c.b.Number && ok {
		gone = append(gone, n)
	}
	slices.SortFunc(gone, func(a, b span) int { return a.from - b.from })
	var out []byte
	at := 0
	for _, g := range gone {
		out = append(out, line[at:g.from]...)
		at = g.to
		for len(out) == 0 && at < len(line) && (line[at] == ' ' || line[at] == '\t') {
			at++
		}
	}
	out = append(out, line[at:]...)
	out = bytes.TrimRight(out, " \t")
	if prefix != "" {
		out = ahead(out, prefix)
	}
	if s := bytes.TrimSpace(out); len(s) == 0 || c.b.Deleted && len(s) <= 2 {
		return
	}
	c.now.lines = append(c.now.lines, out)
	c.now.remarks = 0
}

// ahead writes words before a line's first word, behind its slash.
func ahead(line []byte, words string) []byte {
	first := 0
	if t := bytes.TrimLeft(line, " \t"); len(t) > 0 && t[0] == '/' {
		first = len(line) - len(t) + 1
		for first < len(line) && line[first] >= '0' && line[first] <= '9' {
			first++
		}
	}
	return slices.Insert(slices.Clone(line), first, []byte(words)...)
}

// numberSpan finds the N word of a line, with blanks after it.
func numberSpan(line []byte) (s struct{ from, to int }, ok bool) {
	depth := 0
	for i, ch := range line {
		switch {
		case ch == '(':
			depth++
		case ch == ')':
			depth--
		case ch == ';' && depth == 0:
			return s, false
		case (ch == 'N' || ch == 'n') && depth == 0:
			s.from, s.to = i, i+1
			for s.to < len(line) && (line[s.to] >= '0' && line[s.to] <= '9' || line[s.to] == ' ' || line[s.to] == '\t') {
				s.to++
			}
			return s, true
		}
	}
	return s, false
}

// toolNamed is a tool number in a comment.
var toolNamed = regexp.MustCompile(`(?i)\bT(?:OOL)?[ #:]*0*([0-9]+)\b`)

// otherTool says that a line of comments names tools, and the piece's is none of them:
// merged, another tool may follow than the one it announces.
func (c *cutter) otherTool(line []byte) bool {
	named := toolNamed.FindAllSubmatch(line, -1)
	return c.now.tool >= 0 && len(named) > 0 && !slices.ContainsFunc(named, func(n [][]byte) bool { return string(n[1]) == fmt.Sprint(c.now.tool) })
}
