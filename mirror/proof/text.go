package proof

import (
	"bytes"
	"fmt"

	"flipcalc/mirror/fault"
	"flipcalc/mirror/motion"
)

// compareText compares the two lines outside the numbers of their words: letters,
// blanks, comments, block numbers, line ends.
func (p *pair) compareText(line, written []byte) error {
	x, y, a, b := alike(&p.a, &p.b, line, written)
	if x.Tape != y.Tape || x.Deleted != y.Deleted || len(x.Words) != len(y.Words) {
		return p.no(p.out.line, 1, "the block "+quote(b), fmt.Sprintf("the words of line %d of the input: %s", p.in.line, quote(a)))
	}
	i, j := 0, 0
	for k := range x.Words {
		v, w := &x.Words[k], &y.Words[k]
		if !bytes.Equal(a[i:v.Number], b[j:w.Number]) {
			return p.textDiffers(a[i:v.Number], b[j:w.Number], j)
		}
		i, j = v.End, w.End
	}
	if !bytes.Equal(a[i:], b[j:]) {
		return p.textDiffers(a[i:], b[j:], j)
	}
	return nil
}

func (p *pair) textDiffers(a, b []byte, at int) error {
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	return p.no(p.out.line, at+n+1, fmt.Sprintf("the text %.60q", b), fmt.Sprintf("%.60q as in line %d of the input", a, p.in.line))
}

// compareWords compares the numbers of words that aren't coordinates, and how
// coordinates are written.
func (l *lane) compareWords(a, b *motion.Block) error {
	coordinates := l.in.Effect().Coordinates
	if l.out.Effect().Coordinates != coordinates {
		return l.p.no(b.Line, 1, "words of another meaning: "+quote(b.Text), "those of "+quote(a.Text))
	}
	if a.Deleted && coordinates == 0 && len(l.p.lanes) == 2 && l == l.p.lanes[1] {
		return nil // skipped
	}
	a, b, _, _ = alike(a, b, a.Text, b.Text)
	p := offsetP(a)
	for k := range a.Words {
		v, w := &a.Words[k], &b.Words[k]
		if bytes.Equal(a.Text[v.Number:v.End], b.Text[w.Number:w.End]) {
			continue
		}
		switch {
		case k == p && p == offsetP(b), v.Letter == 'G' && swaps(v.Value, w.Value):
		case v.Letter != 'G' && v.Letter != 'M' && coordinates&(1<<(v.Letter-'A')) != 0:
			if err := l.comparePoint(a, b, v, w); err != nil {
				return err
			}
		default:
			return l.p.no(b.Line, w.Start+1, string(b.Text[w.Start:w.End]),
				fmt.Sprintf("%s as in line %d of the input", a.Text[v.Start:v.End], a.Line))
		}
	}
	return nil
}

// swaps reports whether one G code may stand for the other in a mirror; whether it
// must is seen from what the block does.
func swaps(a, b motion.Num) bool {
	if offsetCode(a) != 0 && offsetCode(b) != 0 {
		return true
	}
	x, ok := a.Times(10).Int()
	y, too := b.Times(10).Int()
	if !ok || !too {
		return false
	}
	if x > y {
		x, y = y, x
	}
	return x == 20 && y == 30 || x == 120 && y == 130 || x == 410 && y == 420 || x == 411 && y == 421
}

// comparePoint sees that the decimal point is kept: controls read X5 and X5.
// differently. A point may only be added together with decimals.
func (l *lane) comparePoint(a, b *motion.Block, v, w *motion.Word) error {
	had := bytes.IndexByte(a.Text[v.Number:v.End], '.') >= 0
	has := bytes.IndexByte(b.Text[w.Number:w.End], '.') >= 0
	_, whole := w.Value.Int()
	if had && !has || has && !had && whole {
		return l.p.no(b.Line, w.Start+1, fmt.Sprintf("%s, which lost or won a decimal point", b.Text[w.Start:w.End]),
			fmt.Sprintf("a point as in %s", a.Text[v.Start:v.End]))
	}
	return nil
}

// refuse makes the error that the input can't be mirrored.
func refuse(a *motion.Block, letter byte, found, hint string) error {
	return &fault.Error{File: a.File, Line: a.Line, Col: a.Column(letter), Found: found, Hint: hint}
}
