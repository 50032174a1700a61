package mirror

import (
	"fmt"
	"sort"
	"strings"

	"flipcalc/mirror/block"
	"flipcalc/mirror/fault"
)

// offsets is what is done to the codes of work offsets, G54 to G59.3.
type offsets struct {
	back   int         // the back's, none to leave them alone
	to     map[int]int // explicit: from the face's to the back's
	keep   bool
	differ bool
	first  int // the first that the program called
}

func newOffsets(o *Options) (f offsets, err error) {
	f = offsets{back: none, first: none, keep: o.KeepOffset, differ: o.ZerosDiffer}
	read := func(name string) int {
		code := offsetCode(name)
		if code == none && err == nil {
			err = &fault.Error{Found: fmt.Sprintf("%q", name), Expected: "a work offset, G54 to G59 or G59.1 to G59.3"}
		}
		return code
	}
	if o.BackOffset != "" {
		f.back = read(o.BackOffset)
	}
	if len(o.OffsetMap) > 0 {
		f.to = make(map[int]int, len(o.OffsetMap))
		for from, to := range o.OffsetMap {
			f.to[read(from)] = read(to)
		}
	}
	return f, err
}

// inserted gives the offset that goes before the first motion of a program that
// calls none, or none.
func (f *offsets) inserted() int {
	if f.keep {
		return none
	}
	return f.back
}

// mapOffset gives the back's offset for the code of a word of b.
func (m *rewriter) mapOffset(b *block.Block, word, code int) (int, error) {
	f := &m.offsets
	at := int(b.W[word].Start)
	name := codeName('G', code)
	to, mapped := f.to[code]
	switch {
	case f.keep:
		if f.differ {
			m.note(Note{Code: OffsetsKept, Level: Warning, Line: b.Line, Values: []string{name}})
		}
		return code, nil
	case mapped:
	case f.back != none && len(f.to) > 0:
		return 0, m.refuse(b, at, name+", which --map doesn't name", "", fmt.Sprintf("add --map %s=%s or another of the back's offsets", name, codeName('G', f.back)))
	case f.back != none && f.first != none && f.first != code:
		first := codeName('G', f.first)
		return 0, m.refuse(b, at, fmt.Sprintf("%s after %s, two offsets in one program", name, first), "",
			fmt.Sprintf("say what each becomes, for example --map %s=%s --map %s=...", first, codeName('G', f.back), name))
	case f.back != none:
		f.first, to = code, f.back
	case f.differ:
		return 0, m.refuse(b, at, name+", the face's offset, although the back's zero is another", "",
			"give --back-offset, or --keep-offset if the offset itself is set anew between the sides")
	default:
		return code, nil
	}
	m.note(Note{Code: OffsetMapped, Level: Info, Line: b.Line, Values: []string{name, codeName('G', to)}})
	return to, nil
}

// commentPrefix starts the one comment line that is added, and marks it for the
// next pass.
const commentPrefix = "(flipcalc: "

// commentLine makes the added line without its line end: at most 256 characters,
// no parenthesis inside and nothing but printable ASCII.
func commentLine(text string) string {
	clean := strings.Map(func(r rune) rune {
		switch {
		case r == '(':
			return '['
		case r == ')':
			return ']'
		case r < ' ' || r > '~':
			return ' '
		}
		return r
	}, text)
	const most = 256 - len(commentPrefix) - 1
	if len(clean) > most {
		clean = clean[:most]
	}
	return commentPrefix + clean + ")"
}

// sortedNotes puts notes in the order of the program.
func sortedNotes(notes []Note) []Note {
	sort.SliceStable(notes, func(i, j int) bool { return notes[i].Line < notes[j].Line })
	return notes
}
