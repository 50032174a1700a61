package proof

import (
	"encoding/binary"
	"math/bits"
)

var pow10 = [16]int64{1, 10, 100, 1_000, 10_000, 100_000, 1_000_000, 10_000_000, 100_000_000, 1_000_000_000}

// Eight bytes of text at once: each constant is one byte repeated.
const (
	zeros  = 0x3030303030303030 // '0'
	seven  = 0x7f7f7f7f7f7f7f7f
	beyond = 0x7676767676767676 // 0x80 - 10: lifts all but 0..9 above 0x7f
	high   = 0x8080808080808080
)

// load gives the eight bytes of text from s[i], the first in the lowest byte.
func load(s []byte, i int) uint64 { return binary.LittleEndian.Uint64(s[i:]) }

// short reads an unsigned number of at most seven bytes at the beginning of the
// eight bytes of text x: its value in steps of 1e-9, its length, 0 where there is no
// such number, and whether it has a point.
func short(x uint64) (v int64, n int, point bool) {
	t := x ^ zeros // digits become 0 to 9
	other := ((t&seven + beyond) | t) & high
	end := uint(bits.TrailingZeros64(other)) &^ 7 // in bits, like all places here; 64 where none
	if byte(x>>(end&63)) != '.' {
		if end == 0 || other == 0 {
			return 0, 0, false
		}
		return int64(eight(t<<(64-end&63))) * 1_000_000_000, int(end >> 3), false
	}
	below := uint64(1)<<(end&63) - 1
	places := end // so far the digits before the point
	other &= other - 1
	end = uint(bits.TrailingZeros64(other)) &^ 7
	if end == 8 && places == 0 || other == 0 {
		return 0, 0, false
	}
	places = end - 8 - places
	t = t&below | t>>8&^below // the point closed up
	return int64(eight(t<<((72-end)&63))) * pow10[(9-places>>3)&15], int(end >> 3), true
}

// eight gives the number that eight digits make, one a byte, the first in the
// lowest byte: pairs first, then fours, then all eight.
func eight(t uint64) uint64 {
	t = t*10 + t>>8
	return (t&0x000000ff000000ff*0x000f424000000064 + t>>16&0x000000ff000000ff*0x0000271000000001) >> 32
}

// shortEnd gives the length of the number that short would read.
func shortEnd(x uint64) int {
	t := x ^ zeros
	other := ((t&seven + beyond) | t) & high
	end := uint(bits.TrailingZeros64(other)) &^ 7
	if other == 0 || end == 0 && byte(x) != '.' {
		return 0
	}
	if byte(x>>end) == '.' {
		other &= other - 1
		if other == 0 {
			return 0
		}
		first := end
		end = uint(bits.TrailingZeros64(other)) &^ 7
		if first == 0 && end == 8 {
			return 0
		}
	}
	return int(end >> 3)
}

// long reads an unsigned number of any length without blanks inside at s[i]; n is
// 0 where there is none or where it has more than nine places or 17 digits.
func long(s []byte, i int) (v int64, n int, hasPoint bool) {
	start, point := i, -1
	digits := 0
	for ; ; i++ {
		c := s[i]
		if c-'0' <= 9 {
			if digits++; digits > 17 {
				return 0, 0, false
			}
			v = v*10 + int64(c-'0')
			continue
		}
		if c != '.' || point >= 0 {
			break
		}
		point = i
	}
	if digits == 0 {
		return 0, 0, false
	}
	places := 0
	if point >= 0 {
		places = i - point - 1
	}
	if places > 9 || v > maxFast/pow10[9-places] {
		return 0, 0, false
	}
	return v * pow10[9-places], i - start, point >= 0
}

// maxFast bounds every coordinate on the short way, so that no sum of two or
// difference of four overflows.
const maxFast = 1 << 60
