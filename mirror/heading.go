package mirror

import (
	"bytes"
	"io"
	"strings"

	"flipcalc/mirror/block"
	"flipcalc/mirror/fact"
)

// What the text of the added comment line begins with where the program is cut on the back, and
// where such a program was mirrored once more, so that it lies as on the face again.
const (
	backText  = "back of "
	againText = "mirrored again, as on the face: "
)

// heading says where the added comment line goes.
type heading struct {
	before int    // the line before which it goes
	own    int    // or the line with an earlier pass's comment, 0 for none
	text   string // what that says
}

// again reports whether the program is one that was mirrored before.
func (h *heading) again() bool { return h.own != 0 && strings.HasPrefix(h.text, backText) }

// line gives the text of the line on this pass, which writes comment, "" for none.
func (h *heading) line(comment string) string {
	switch {
	case h.again() && comment != "":
		return againText + comment
	case h.again():
		return againText + h.text
	case h.own != 0 && comment == "":
		return strings.TrimPrefix(h.text, againText)
	}
	return comment
}

// readHeading looks through the lines before the first block: the comment goes behind
// the opening % and the program number, first where there is neither. enough says that
// more lines would change nothing.
func readHeading(lines []byte) (h heading, enough bool) {
	var l block.Lexer
	var b block.Block
	h.before = 1
	l.Reset(lines)
	for number, tape := false, false; ; {
		err := l.Next(&b)
		if err != nil {
			return h, err != io.EOF
		}
		text := bytes.TrimSpace(lines[b.Start:b.End])
		switch {
		case b.Last:
			return h, true
		case b.Percent && !tape && !number:
			tape, number = true, b.N > 0
			h.before = b.Line + 1
		case isNumber(&b) && !b.Percent && !number:
			number = true
			h.before = b.Line + 1
		case !b.Empty():
			return h, true
		case bytes.HasPrefix(text, []byte(block.CommentPrefix)) && bytes.HasSuffix(text, []byte(")")):
			h.own = b.Line
			h.text = string(text[len(block.CommentPrefix) : len(text)-1])
		}
	}
}

// findHeading finds out where the comment line goes.
func (m *rewriter) findHeading(r *block.Reader) {
	r.Peek(func(lines []byte) (enough bool) {
		m.heading, enough = readHeading(lines)
		return enough
	})
	if h := &m.heading; h.again() {
		m.note(fact.Warning, h.own, AlreadyMirrored{})
	}
}

// headerLine puts the comment line where it belongs, or replaces an old one.
func (m *rewriter) headerLine(b *block.Block) {
	h := &m.heading
	switch {
	case b.Line == h.own && h.line(m.o.Comment) == h.text:
	case b.Line == h.own:
		m.copyTo(b.Start)
		m.out = append(m.out, commentLine(h.line(m.o.Comment))...)
		m.copied = b.End
	case b.Line == h.before && h.own == 0 && m.o.Comment != "":
		m.copyTo(b.Start)
		m.addLine(b, commentLine(m.o.Comment))
	}
}

// commentLine makes the added line without its line end: at most 256 characters.
func commentLine(text string) string {
	const most = 256 - len(block.CommentPrefix) - 1
	return block.CommentPrefix + block.CommentText(text, most) + ")"
}

// isNumber reports a line with nothing but a program number, % beside it allowed.
func isNumber(b *block.Block) bool {
	if b.N != 1 || b.W[0].Letter != 'O' || b.Deleted {
		return false
	}
	v, ok := b.W[0].Int()
	return ok && v >= 0
}
