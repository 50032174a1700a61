package mirror

import (
	"bytes"
	"strconv"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/block"
	"flipcalc/mirror/transform"
)

// maxScaled bounds every scaled integer that is worked with: the sum of two of
// them still fits an int64.
const maxScaled = 1e18

var pow10 = func() (t [19]int64) {
	t[0] = 1
	for i := 1; i < len(t); i++ {
		t[i] = 10 * t[i-1]
	}
	return t
}()

// axis is one axis' part of the transform in one unit, ready for scaled integers:
// new = sign*old + offset.
type axis struct {
	neg    bool
	same   bool // new = old
	offset decimal.Decimal
	places int // decimals that the offset needs
	top    int // most decimals at which the scaled offset stays below maxScaled, -1 for none
	at     [19]int64
}

func newAxis(a transform.Axis) axis {
	x := axis{neg: a.Sign < 0, offset: a.Offset, top: -1}
	x.same = !x.neg && a.Offset.IsZero()
	o := a.Offset
	for o.Exponent() < 0 && o.Equal(o.Truncate(-o.Exponent()-1)) {
		o = o.Truncate(-o.Exponent() - 1)
	}
	x.places = int(max(0, -o.Exponent()))
	for d := x.places; d < len(x.at); d++ {
		scaled := o.Shift(int32(d))
		if scaled.Abs().GreaterThanOrEqual(decimal.New(maxScaled, 0)) {
			break
		}
		x.at[d], x.top = scaled.IntPart(), d
	}
	return x
}

// place maps a coordinate v with the given decimals; ok is false where the numbers
// don't fit and decimal must do it.
func (x *axis) place(v int64, places int) (int64, int, bool) {
	if places < x.places {
		f := x.places - places
		if f >= len(pow10) || v >= maxScaled/pow10[f] || v <= -maxScaled/pow10[f] {
			return 0, 0, false
		}
		v *= pow10[f]
		places = x.places
	}
	if places > x.top {
		return 0, 0, false
	}
	if x.neg {
		v = -v
	}
	return v + x.at[places], places, true
}

// appendScaled writes v, which has the given decimals, in the manner of old.
func appendScaled(dst []byte, v int64, places int, old []byte, point bool) []byte {
	var digits [20]byte
	mag := uint64(v)
	if v < 0 {
		mag = -mag
	}
	return appendNumber(dst, v < 0, strconv.AppendUint(digits[:0], mag, 10), places, old, point)
}

// appendNumber writes a number, of whose digits the last places stand behind the point, in
// the manner of old: plus sign, padding zeros, bare point and trailing point as there.
func appendNumber(dst []byte, neg bool, digits []byte, places int, old []byte, point bool) []byte {
	plus := old[0] == '+'
	if plus || old[0] == '-' {
		old = old[1:]
	}
	width := 0
	if old[0] == '0' {
		for width < len(old) && old[width]-'0' <= 9 {
			width++
		}
	} else if old[0] != '.' || places == 0 {
		width = 1
	}
	if neg {
		dst = append(dst, '-')
	} else if plus {
		dst = append(dst, '+')
	}
	whole := max(len(digits)-places, width)
	for range whole + places - len(digits) {
		dst = append(dst, '0')
	}
	dst = append(dst, digits...)
	if places > 0 || point {
		dst = append(dst, '.')
		at := len(dst) - 1 - places
		copy(dst[at+1:], dst[at:])
		dst[at] = '.'
	}
	return dst
}

// plainNumber gives the bytes of a word's number without the spaces inside it.
func plainNumber(chunk []byte, w *block.Word) []byte {
	text := chunk[w.Num:w.End]
	if w.Flags&block.Spaced == 0 {
		return text
	}
	return bytes.Map(func(r rune) rune {
		if r == ' ' || r == '\t' {
			return -1
		}
		return r
	}, text)
}

// exact reads a word's number whatever its length. The lexer has checked it.
func exact(chunk []byte, w *block.Word) decimal.Decimal {
	d, err := decimal.NewFromString(string(plainNumber(chunk, w)))
	if err != nil {
		panic("mirror: the lexer passed a number that can't be read: " + err.Error())
	}
	return d
}

// appendExact maps a number through decimals and writes it in the manner of the
// old one; changed is false, and nothing is written, where the value stays.
func appendExact(dst, chunk []byte, w *block.Word, x *axis, offset bool) (out []byte, changed bool) {
	old := exact(chunk, w)
	v := old
	if x.neg {
		v = v.Neg()
	}
	if offset {
		v = v.Add(x.offset)
	}
	if v.Equal(old) {
		return dst, false
	}
	places := -old.Exponent()
	if offset {
		places = max(places, int32(x.places))
	}
	places = max(places, 0)
	digits := v.Abs().Shift(places).BigInt().String()
	return appendNumber(dst, v.IsNegative(), []byte(digits), int(places), plainNumber(chunk, w), w.Flags&block.Point != 0), true
}

// before gives a coordinate as it was written and as it is mirrored.
func (m *rewriter) before(w *block.Word, x *axis) (was, is string) {
	v := exact(m.chunk, w)
	was = v.String()
	if x.neg {
		v = v.Neg()
	}
	return was, v.Add(x.offset).String()
}
