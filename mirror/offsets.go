package mirror

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"sort"
	"strings"

	"flipcalc/mirror/block"
	"flipcalc/mirror/fact"
	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// offsets is what is done to the codes of work offsets, G54 to G59.3 and G54.1 P.
type offsets struct {
	back   int         // the back's, none to leave them alone
	to     map[int]int // explicit: from the face's to the back's
	keep   bool
	differ bool
	called bool        // the program called one
	silent bool        // it moved before it called one
	face   int         // the face's, none where it isn't known
	stands map[int]int // the back's, and the face's that it stands for so far
}

func newOffsets(o *Options) (f offsets, err error) {
	f = offsets{back: none, face: none, keep: o.KeepOffset, differ: o.ZerosDiffer, stands: map[int]int{}}
	read := func(name string) int {
		code := transform.ReadOffset(name)
		if code == 0 && err == nil {
			err = &fault.Error{Found: fmt.Sprintf("%q", name), Expected: "a work offset: G54 to G59, G59.1 to G59.3 or G54.1 P1 and on"}
		}
		return code
	}
	if o.BackOffset != "" {
		f.back = read(o.BackOffset)
	}
	if o.FaceOffset != "" {
		f.face = read(o.FaceOffset)
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
// calls none, or none. Such a program runs in G54, which a control starts in.
func (f *offsets) inserted() int {
	if f.keep {
		return none
	}
	if to, ok := f.to[540]; ok {
		return to
	}
	return f.back
}

// add is what to do where the map doesn't name an offset.
func (f *offsets) add(name string) string {
	if f.back != none {
		return fmt.Sprintf("add ‹map + %s=%s›, or another of the back's offsets", name, motion.CodeName('G', f.back))
	}
	return fmt.Sprintf("add ‹map + %s=...› with one of the back's offsets", name)
}

// silent keeps that the program moves at b in an offset that it hasn't called.
func (m *rewriter) silent(b *block.Block) error {
	f := &m.offsets
	f.silent = true
	to := m.insert
	if to == none {
		if len(f.to) > 0 {
			return m.refuse(b, b.Start, "motion before any offset, so in G54, which ‹map› doesn't name", "", f.add("G54"))
		}
		to = 540
	}
	return m.stand(b, b.Start, 540, to)
}

// stand keeps that the back's offset to stands for the face's from b on, and refuses
// one that stands for another already: two zeros of the face can't be one of the back.
func (m *rewriter) stand(b *block.Block, at, face, to int) error {
	f := &m.offsets
	other, known := f.stands[to]
	switch {
	case f.keep || known && other == face:
		return nil
	case !known:
		f.stands[to] = face
		return nil
	}
	now, before, back := motion.CodeName('G', face), motion.CodeName('G', other), motion.CodeName('G', to)
	found := fmt.Sprintf("%s after %s, two offsets in one program", now, before)
	switch {
	case face == 540 && f.silent && b.Start == at:
		found = fmt.Sprintf("motion before any offset, so in G54, and %s elsewhere", before)
	case other == 540 && f.silent:
		found = now + " after motion before any offset, so in G54"
	}
	hint := fmt.Sprintf("say what each becomes, for example ‹map %s=%s; %s=...›", before, back, now)
	if _, mapped := f.to[face]; mapped {
		hint = fmt.Sprintf("two zeros of the face can't become one of the back: give %s and %s different offsets with ‹map›", before, now)
	}
	return m.refuse(b, at, found, "", hint)
}

// mapOffset gives the back's offset for the code of a word of b.
func (m *rewriter) mapOffset(b *block.Block, word, code int) (int, error) {
	f := &m.offsets
	at := int(b.W[word].Start)
	name := motion.CodeName('G', code)
	if !slices.Contains(m.report.Called, name) {
		m.report.Called = append(m.report.Called, name)
	}
	to, mapped := f.to[code]
	switch {
	case f.keep:
		if f.differ {
			m.note(fact.Warning, b.Line, OffsetsKept{Offset: name})
		}
		return code, nil
	case mapped:
	case len(f.to) > 0:
		return 0, m.refuse(b, at, name+", which ‹map› doesn't name", "", f.add(name))
	case f.back != none:
		if f.face != none && code != f.face && !f.called && !m.heading.again() {
			back := motion.CodeName('G', f.back)
			if code == f.back && f.differ {
				return 0, m.refuse(b, at, name+", which is the back's offset", "the face's, "+motion.CodeName('G', f.face),
					fmt.Sprintf("where the face runs in %s, give ‹offset %s› and the back another; or is the program mirrored already?", name, name))
			}
			m.note(fact.Warning, b.Line, OtherOffset{Offset: name, Face: motion.CodeName('G', f.face), Back: back})
		}
		f.called, to = true, f.back
	case f.differ:
		return 0, m.refuse(b, at, name+", the face's offset, although the back's zero is another", "",
			"give ‹back-offset›, or ‹keep-offset true› if the offset itself is set anew between the sides")
	default:
		return code, m.stand(b, at, code, code)
	}
	if err := m.stand(b, at, code, to); err != nil {
		return 0, err
	}
	m.note(fact.Note, b.Line, OffsetMapped{Face: name, Back: motion.CodeName('G', to)})
	return to, nil
}

// claimsP reports whether a code that is no motion has a P of its own.
func (r *reading) claimsP() bool {
	return r.code[gAction] == 40 || r.code[gPath] != none || r.code[gSmooth] != none || r.code[gAhead] != none || r.code[mCall] != none
}

// extended gives the code of the offset that the block's word c calls, with the P
// behind G54.1 or G54. P must follow it, and nothing else in the block may use a P.
func (r *reading) extended(c int) (int, error) {
	at := r.word[gOffset]
	behind := at+1 < r.b.N && r.b.W[at+1].Letter == 'P' && len(bytes.Trim(r.m.chunk[r.b.W[at].End:r.b.W[at+1].Start], " \t")) == 0
	other := r.claimsP() || r.motion() >= 20 && r.code[gEnd] == none && r.has(axisWords|centreWords)
	name := motion.CodeName('G', c)
	switch {
	case c != 541 && (!r.has(block.Bit('P')) || other):
		return c, nil
	case other:
		return 0, r.refuse(at, name+" beside another code that may use its P", "one of them", "put them into two blocks")
	case c > 541:
		return 0, r.refuseLetter('P', "P with "+name, "P behind G54.1 or G54 alone", "")
	case !behind:
		return 0, r.refuse(at, name+" with no P right behind it", fmt.Sprintf("P1 to P%d", transform.MostOffsets), "")
	}
	w := &r.b.W[at+1]
	n, whole := w.Value, w.Flags&block.Big == 0
	for range w.Places {
		whole = whole && n%10 == 0
		n /= 10
	}
	if !whole || n < 1 || n > transform.MostOffsets {
		return 0, r.refuse(at+1, name+" with "+r.text(at+1), fmt.Sprintf("P1 to P%d", transform.MostOffsets), "")
	}
	return transform.MoreOffsets + int(n), nil
}

// callOffset makes the block call the offset to instead of c.
func (r *reading) callOffset(c, to int) error {
	at := r.word[gOffset]
	switch {
	case to == c:
	case c > transform.MoreOffsets && to > transform.MoreOffsets:
		r.p.add(edit{word: at + 1, op: opExtended, code: to - transform.MoreOffsets})
	case c > transform.MoreOffsets:
		r.p.add(edit{word: at, op: opCode, code: to})
		r.p.add(edit{word: at + 1, op: opDrop})
	case to > transform.MoreOffsets && r.has(block.Bit('P')):
		return r.refuse(at, motion.CodeName('G', c)+" beside a P of another code", "", "put it into a block of its own: the back's offset needs a P")
	default:
		r.p.add(edit{word: at, op: opCode, code: to})
	}
	return nil
}

// programNumber is a program number at the start of a line, as O1000 or %1000.
var programNumber = regexp.MustCompile(`^[ \t]*%?[ \t]*[oO]?[ \t]*[0-9]+`)

// numberEnd gives the end of a program number at the start of b's line; 0 if none stands there.
func (m *rewriter) numberEnd(b *block.Block) int {
	if found := programNumber.FindIndex(m.chunk[b.Start:b.End]); found != nil {
		return b.Start + found[1]
	}
	return 0
}

// nameBehind refuses text behind a program number, which ends at end, or behind the
// opening %, where end is 0.
func (m *rewriter) nameBehind(b *block.Block, end int) error {
	skip := func(at int) int {
		rest := m.chunk[at:b.End]
		return at + len(rest) - len(bytes.TrimLeft(rest, " \t"))
	}
	first := skip(b.Start)
	tape := m.chunk[first] == '%'
	if end == 0 {
		return m.refuse(b, skip(first+1), "text behind the opening %", "% alone on its line",
			"some controls take it as a name, others run it: write a name in parentheses on the next line")
	}
	number := "O" + string(bytes.TrimLeft(m.chunk[first:end], "%Oo \t"))
	at := skip(end)
	name := string(bytes.TrimSpace(m.chunk[at:b.End]))
	if len(name) > 40 || strings.ContainsFunc(name, func(c rune) bool { return c < ' ' || c > '~' || c == '(' || c == ')' }) {
		name = "NAME"
	}
	switch {
	case name == "":
		return m.refuse(b, skip(first+1), "a program number behind the opening %", "% alone on its line", "write "+number+" on the next line")
	case tape:
		return m.refuse(b, skip(first+1), "a program number and text behind the opening %", "% alone on its line",
			fmt.Sprintf("write %s (%s) on the next line", number, name))
	}
	return m.refuse(b, at, "text behind the program number", "", fmt.Sprintf("write the name in parentheses: %s (%s)", number, name))
}

// sortedNotes puts notes in the order of the program.
func sortedNotes(notes []Note) []Note {
	sort.SliceStable(notes, func(i, j int) bool { return notes[i].Line < notes[j].Line })
	return notes
}
