package motion

import "fmt"

// noModal refuses a call in the main program while G66 is on.
func (r *runner) noModal(pc, at int, name string) error {
	if r.modal != nil && r.calls.running() == nil {
		return r.fault(pc, at, name+" while G66 is on", "", "end it with G67 first: controls differ on which moves call the macro then")
	}
	return nil
}

// arguments are the parameters that the letters of G65 set (common practice, from memory).
var arguments = map[byte]int{'A': 1, 'B': 2, 'C': 3, 'I': 4, 'J': 5, 'K': 6, 'D': 7, 'E': 8, 'F': 9, 'H': 11, 'M': 13, 'Q': 17,
	'R': 18, 'S': 19, 'T': 20, 'U': 21, 'V': 22, 'W': 23, 'X': 24, 'Y': 25, 'Z': 26}

// call runs M97, G65, G66 and G67, which the control itself doesn't know. G66 calls its
// macro, with the same arguments, behind each block of the program that moves, until G67.
// taken is false for any other block.
func (r *runner) call(pc int, b *Block) (next int, taken bool, err error) {
	at := -1
	for i := range b.Words {
		w := &b.Words[i]
		if w.Letter != 'G' && w.Letter != 'M' {
			continue
		}
		n, ok := w.Value.Int()
		switch {
		case !ok:
		case w.Letter == 'G' && n == 67:
			r.modal = nil
		case w.Letter == 'M' && n == 97, w.Letter == 'G' && (n == 65 || n == 66):
			at = i
		}
	}
	if at < 0 {
		return 0, false, nil
	}
	code := &b.Words[at]
	name := fmt.Sprintf("%c%s", code.Letter, code.Value)
	if b.Deleted {
		return 0, true, b.fault(code.Start, name+" behind a slash", "a call that always runs", "take the slash out")
	}
	f, to, err := r.called(b, at, name)
	if err == nil {
		err = r.noModal(pc, code.Start, name)
	}
	if err != nil {
		return 0, true, err
	}
	f.back = pc + 1
	if f.given == nil {
		f.start, err = r.find(pc, pc, code.Start, to)
	} else if f.start = r.calls.subs[fmt.Sprint(to)]; f.start == 0 {
		err = b.fault(code.Start, fmt.Sprintf("a call of macro O%d, whose body isn't in this file", to), "", "put the macro behind the main program's M30")
	}
	if err != nil {
		return 0, true, err
	}
	if n, _ := code.Value.Int(); n == 66 {
		if r.calls.running() != nil {
			return 0, true, b.fault(code.Start, "G66 inside a subprogram", "G66 in the main program", "")
		}
		r.modal = &f
		return pc + 1, true, nil
	}
	next, err = r.enter(pc, code.Start, f)
	return next, true, err
}

// called reads what stands beside the code of a call: the number that is called, the repeats
// and, of a macro, its arguments.
func (r *runner) called(b *Block, at int, name string) (f call, to int64, err error) {
	macro := b.Words[at].Letter == 'G'
	if macro {
		f.given = map[int]amount{}
	}
	seen := uint32(0)
	for i := range b.Words {
		if i == at {
			continue
		}
		w := &b.Words[i]
		n, whole := w.Value.Int()
		k, letter := arguments[w.Letter], uint32(1)<<(w.Letter-'A')
		if seen&letter != 0 {
			return f, 0, b.fault(w.Start, fmt.Sprintf("a second %c with %s", w.Letter, name), "each letter once", "")
		}
		seen |= letter
		switch {
		case w.Letter == 'P' && (!whole || n < 1):
			return f, 0, b.fault(w.Start, fmt.Sprintf("P%s with %s", w.Value, name), "a whole number", "")
		case w.Letter == 'P':
			to = n
		case w.Letter == 'L' && (!whole || n < 1 || n > int64(r.most)):
			return f, 0, b.fault(w.Start, fmt.Sprintf("L%s with %s", w.Value, name), "a whole number of repeats, 1 or more", "")
		case w.Letter == 'L':
			f.left = n - 1
		case !macro || k == 0:
			return f, 0, b.fault(w.Start, fmt.Sprintf("%c beside %s", w.Letter, name), "", "put the call into a block of its own")
		default:
			f.given[k] = exactly(w.Value)
		}
	}
	if to == 0 {
		return f, 0, b.fault(b.Words[at].Start, name+" without P", "P with what is called", "")
	}
	return f, to, nil
}
