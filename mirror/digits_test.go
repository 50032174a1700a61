package mirror

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// TestEightDigits writes all numbers that eight digits can tell by their halves, and
// compares with the standard library.
func TestEightDigits(t *testing.T) {
	for n := range uint64(10_000) {
		for _, v := range []uint64{n, n * 10_000, n*10_000 + 9_999, 99_990_000 + n} {
			text := eightDigits(v)
			var got [8]byte
			store(got[:], text)
			if want := fmt.Sprintf("%08d", v); string(got[:]) != want {
				t.Fatalf("%s, want %s", got, want)
			}
		}
	}
}

func TestAppendPlain(t *testing.T) {
	for _, tt := range []struct {
		v             int64
		places, whole int
		point         bool
		want          string
	}{
		{0, 0, 1, false, "0"},
		{0, 3, 1, true, "0.000"},
		{0, 3, 0, true, ".000"},
		{-5, 1, 0, true, "-.5"},
		{47726, 3, 1, true, "47.726"},
		{-47726, 3, 1, true, "-47.726"},
		{12345678, 0, 1, false, "12345678"},
		{12345678, 0, 1, true, "12345678."},
		{12345678, 8, 1, true, "0.12345678"},
		{12345678, 8, 0, true, ".12345678"},
		{123456789, 4, 1, true, "12345.6789"},
		{-1, 18, 1, true, "-0.000000000000000001"},
		{1999999999999999999, 0, 1, true, "1999999999999999999."},
		{-1999999999999999999, 18, 1, true, "-1.999999999999999999"},
	} {
		if got := string(appendPlain([]byte("X")[:1:1], tt.v, tt.places, tt.whole, tt.point)); got != "X"+tt.want {
			t.Errorf("%d, %d places: %s, want X%s", tt.v, tt.places, got, tt.want)
		}
	}
}

// TestDifference compares with decimal arithmetic.
func TestDifference(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 200_000 {
		places, offset := r.IntN(8), decimal.New(r.Int64N(1e8), -int32(r.IntN(8)))
		x := newAxis(transform.Axis{Sign: -1, Offset: offset})
		c, ok := x.minuend(places)
		if !ok {
			if int32(places) >= -offset.Exponent() && offset.Shift(int32(places)).LessThan(decimal.New(1, 8)) {
				t.Fatalf("no minuend for %s with %d decimals", offset, places)
			}
			continue
		}
		whole := r.IntN(8 - places)
		if whole+places == 0 {
			continue
		}
		number := fmt.Sprintf("%0*d", whole+places, r.Int64N(pow10[whole+places]))
		old := decimal.RequireFromString(number).Shift(-int32(places))
		number = number[:whole] + "." + number[whole:]
		want := offset.Sub(old).StringFixed(int32(places))
		if places == 0 {
			want += "."
		}
		if whole == 0 {
			want = strings.Replace(strings.TrimPrefix(want, "0"), "-0.", "-.", 1)
		}
		text := "X123 Y1 X" + number
		if got := string(appendDifference(nil, c, lastDigits([]byte(text[len(text)-8:]), whole, places), places, min(whole, 1))); got != want {
			t.Fatalf("%s - %s: %s, want %s", offset, number, got, want)
		}
	}
}
