package proof

var pow10 = [10]int64{1, 10, 100, 1_000, 10_000, 100_000, 1_000_000, 10_000_000, 100_000_000, 1_000_000_000}

// signed reads a number without blanks inside, with a sign if any, at s[i]: its value in steps
// of 1e-9, its length, 0 where the long way must read it, and whether it has a point.
func signed(s []byte, i int) (v int64, n int, point bool) {
	if s[i] != '-' {
		return unsigned(s, i)
	}
	if v, n, point = unsigned(s, i+1); n == 0 {
		return 0, 0, false
	}
	return -v, n + 1, point
}

// unsigned reads a number without a sign; n is 0 where there is none or where it has more
// than nine places or 17 digits.
func unsigned(s []byte, i int) (v int64, n int, hasPoint bool) {
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
