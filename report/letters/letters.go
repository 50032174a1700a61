// Package letters writes numbers and names so that they can be read: rounded to what
// shows, the least down and the greatest up, and names from outside without the
// characters that move a cursor or break out of a page.
package letters

import (
	"math"
	"strconv"
	"strings"

	"flipcalc/mirror/transform"
)

// Rounded writes v with at most n decimals and no padding.
func Rounded[F ~float64](v F, n int) string {
	f := float64(v)
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return "unknown"
	}
	s := strconv.FormatFloat(f, 'f', n, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		s = "0"
	}
	return s
}

// Down gives a least value, rounded down to n decimals. A millionth of the last one
// covers the rounding of decimals in binary: 0.3 is 0.299999... there.
func Down[F ~float64](f F, n int) string {
	s := math.Pow10(n)
	return Rounded(math.Floor(float64(f)*s+1e-6)/s, n)
}

// Up gives a greatest value, rounded up to n decimals, with the same millionth: what is
// shown as the most holds (JCGM 100:2008, 7.2.6, from memory: uncertainties may be
// rounded up rather than to the nearest digit).
func Up[F ~float64](f F, n int) string {
	s := math.Pow10(n)
	return Rounded(math.Ceil(float64(f)*s-1e-6)/s, n)
}

// Places is how many decimals of a length the words of a drawing show.
func Places(u transform.Unit) int {
	if u == transform.Inch {
		return 3
	}
	return 2
}

// Plain removes control characters, which could move a terminal's cursor or
// hide part of a name, from text that came from outside.
func Plain(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n', r == '\t':
			return ' '
		case r < 0x20, r >= 0x7f && r < 0xa0, r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069, r == '\u200e', r == '\u200f':
			return -1
		}
		return r
	}, s)
}

// Escaped makes text safe in HTML and XML, without control characters.
func Escaped(s string) string { return escapes.Replace(Plain(s)) }

var escapes = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "'", "&#39;")
