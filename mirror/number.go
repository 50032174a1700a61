package mirror

import (
	"bytes"
	"math/bits"

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

	minuends [8]uint64 // of a reversed axis, see minuend
}

func newAxis(a transform.Axis) axis {
	x := axis{neg: a.Sign < 0, offset: a.Offset, top: -1}
	x.same = !x.neg && a.Offset.IsZero()
	o := a.Offset
	for o.Exponent() < 0 && o.Equal(o.Truncate(-o.Exponent()-1)) {
		o = o.Truncate(-o.Exponent() - 1)
	}
	x.places = int(max(0, -o.Exponent()))
	for d := range x.minuends {
		x.minuends[d] = noDigits
		if scaled := o.Shift(int32(d)); x.neg && !o.IsNegative() && d >= x.places && scaled.LessThan(decimal.New(1, 8)) {
			x.minuends[d] = 0
			for n, i := scaled.IntPart(), 0; n > 0; n, i = n/10, i+1 {
				x.minuends[d] |= uint64(n%10) << (8 * i)
			}
		}
	}
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

// appendNumber writes v with the given decimals in the manner of old: plus sign,
// padding zeros, bare point and trailing point as there. Zero gets no minus sign.
func appendNumber(dst []byte, v int64, places int, old []byte, point bool) []byte {
	neg, plus := v < 0, false
	mag := uint64(v)
	if neg {
		mag = -mag
	}
	if old[0] == '+' || old[0] == '-' {
		plus = old[0] == '+'
		old = old[1:]
	}
	width := 1
	if old[0] == '.' {
		width = 0
	} else if old[0] == '0' && len(old) > 1 && old[1]-'0' <= 9 {
		for width < len(old) && old[width]-'0' <= 9 {
			width++
		}
	}
	whole := max(digits(mag)-places, width)
	if whole == 0 && places == 0 {
		whole = 1
	}
	n := whole
	if places > 0 || point {
		n += 1 + places
	}
	if cap(dst)-len(dst) < n+1 {
		dst = append(dst, make([]byte, n+1)...)[:len(dst)]
	}
	if neg {
		dst = append(dst, '-')
	} else if plus {
		dst = append(dst, '+')
	}
	dst = dst[:len(dst)+n]
	p := len(dst)
	for range places {
		p--
		dst[p] = byte('0' + mag%10)
		mag /= 10
	}
	if places > 0 || point {
		p--
		dst[p] = '.'
	}
	for range whole {
		p--
		dst[p] = byte('0' + mag%10)
		mag /= 10
	}
	return dst
}

// digits gives the number of decimal digits of v, 0 for 0.
func digits(v uint64) int {
	n := (bits.Len64(v) * 1233) >> 12 // log10(2) is about 1233/4096
	if n < len(pow10) && v >= uint64(pow10[n]) {
		n++
	}
	return n
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
	text := v.StringFixed(places)
	manner := plainNumber(chunk, w)
	plus := manner[0] == '+'
	if plus || manner[0] == '-' {
		manner = manner[1:]
	}
	if text[0] == '-' {
		dst = append(dst, '-')
		text = text[1:]
	} else if plus {
		dst = append(dst, '+')
	}
	whole := bytes.IndexByte([]byte(text), '.')
	if whole < 0 {
		whole = len(text)
	}
	switch {
	case manner[0] == '.' && text[0] == '0' && places > 0:
		text = text[1:]
	case manner[0] == '0':
		width := 0
		for width < len(manner) && manner[width]-'0' <= 9 {
			width++
		}
		for range width - whole {
			dst = append(dst, '0')
		}
	}
	dst = append(dst, text...)
	if places == 0 && w.Flags&block.Point != 0 {
		dst = append(dst, '.')
	}
	return dst, true
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
