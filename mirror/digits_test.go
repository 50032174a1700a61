package mirror

import (
	"fmt"
	"testing"
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
