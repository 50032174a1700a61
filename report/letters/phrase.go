package letters

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
	"flipcalc/registration/bed"
)

// XY writes a place, for example "X60 Y-2.5".
func XY(p registration.Point) string { return "X" + p.X.String() + " Y" + p.Y.String() }

// XYZ writes a position; an unknown Z is left out.
func XYZ(x, y decimal.Decimal, z *decimal.Decimal) string {
	s := "X" + x.String() + " Y" + y.String()
	if z != nil {
		s += " Z" + z.String()
	}
	return s
}

// Size writes a blank, for example "120 x 80 x 12".
func Size(b registration.Blank) string {
	s := b.W.String() + " x " + b.H.String()
	if !b.T.IsZero() {
		s += " x " + b.T.String()
	}
	return s
}

// Duration writes seconds as a person says them.
func Duration[S ~float64](v S) string {
	s := float64(v)
	switch {
	case s <= 0 || math.IsNaN(s) || math.IsInf(s, 0):
		return "unknown"
	case s < 90:
		return fmt.Sprintf("%.0f s", math.Ceil(s))
	case s < 5400:
		return fmt.Sprintf("%.0f min", math.Ceil(s/60))
	}
	m := int(math.Ceil(s / 60))
	return fmt.Sprintf("%d h %d min", m/60, m%60)
}

// Bytes writes a file size in full, for example "1,234 bytes".
func Bytes(n int64) string {
	s := strconv.FormatInt(n, 10)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s + " bytes"
}

// Plural chooses a word by number.
func Plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// List joins words with commas and a last "and".
func List(w []string) string {
	switch len(w) {
	case 0:
		return ""
	case 1:
		return w[0]
	}
	return strings.Join(w[:len(w)-1], ", ") + " and " + w[len(w)-1]
}

// Capital gives s with its first letter a capital.
func Capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// Side names a side of the part.
func Side(back bool) string {
	if back {
		return bed.BackSide
	}
	return bed.FaceSide
}

// Seconds writes a time finely enough to compare cycles.
func Seconds[S ~float64](v S) string {
	s := float64(v)
	switch {
	case math.IsNaN(s) || math.IsInf(s, 0):
		return "unknown"
	case s < 90:
		return Rounded(s, 0) + " s"
	case s < 3600:
		n := int(math.Round(s))
		return fmt.Sprintf("%d min %d s", n/60, n%60)
	}
	m := int(math.Round(s / 60))
	return fmt.Sprintf("%d h %d min", m/60, m%60)
}

// Clock writes a time as min:s, or h:min:s, for tables.
func Clock[S ~float64](v S) string {
	s := float64(v)
	if math.IsNaN(s) || math.IsInf(s, 0) {
		return "unknown"
	}
	n := int(math.Round(s))
	if n < 3600 {
		return fmt.Sprintf("%d:%02d", n/60, n%60)
	}
	return fmt.Sprintf("%d:%02d:%02d", n/3600, n/60%60, n%60)
}

// Word chooses a word by number.
func Word(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}
