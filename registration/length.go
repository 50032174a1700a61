package registration

import (
	"fmt"
	"math/big"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// longest is the longest text that a length may have: far more digits than any
// machine resolves, few enough to stay exact and cheap.
const longest = 48

// ParseLength reads a length and gives it in unit u, exactly. It takes decimals
// (120, -0.5, .75), fractions (3/4) and mixed numbers (4-3/4 or "4 3/4"), each
// with an optional mm or in behind it that says its own unit. A length that is
// no finite decimal in u, such as 1/3 or 19mm in inches, is an error.
func ParseLength(s string, u transform.Unit) (decimal.Decimal, error) {
	text := strings.TrimSpace(s)
	bad := func(expected, hint string) (decimal.Decimal, error) {
		return decimal.Decimal{}, &Error{Found: fmt.Sprintf("%q is no length", short(s)), Expected: expected, Hint: hint}
	}
	const forms = "a number such as 120, 0.5, 4-3/4, 3/4in or 19mm"
	if len(text) > longest {
		return bad(fmt.Sprintf("at most %d characters", longest), "")
	}
	from := u
	lower := strings.ToLower(text)
	switch {
	case strings.HasSuffix(lower, "mm"):
		from = transform.MM
		text = strings.TrimSpace(text[:len(text)-2])
	case strings.HasSuffix(lower, "in"):
		from = transform.Inch
		text = strings.TrimSpace(text[:len(text)-2])
	}
	negative := false
	if text != "" && (text[0] == '-' || text[0] == '+') {
		negative = text[0] == '-'
		text = text[1:]
	}
	r, ok := magnitude(text)
	if !ok {
		hint := ""
		switch {
		case strings.Contains(text, ","):
			hint = "write the decimal point as a point"
		case strings.ContainsAny(text, "\u2212\u2013\u2014"):
			hint = "write the minus sign as a plain -"
		case powerOfTen(text):
			hint = "write the number out, without a power of ten"
		case strings.ContainsAny(text, "\"'\u2033\u2032"):
			hint = "write inches as in: 3/4in"
		}
		return bad(forms, hint)
	}
	if negative {
		r.Neg(r)
	}
	switch {
	case from == u:
	case from == transform.Inch:
		r.Mul(r, big.NewRat(254, 10))
	default:
		r.Quo(r, big.NewRat(254, 10))
	}
	d, ok := finite(r)
	if !ok {
		return decimal.Decimal{}, &Error{
			Found:    fmt.Sprintf("%q is %s... in %s, with no last digit", short(s), truncated(r, 6), inWords(u)),
			Expected: "a length that ends",
			Hint:     "write it with the decimals that you can set, or choose the other ‹units›",
		}
	}
	return d, nil
}

// powerOfTen reports whether s is a number written with a power of ten, such as 1.5e-3.
func powerOfTen(s string) bool {
	i := strings.IndexAny(s, "eE")
	return i >= 0 && isDecimal(s[:i]) && isInteger(strings.TrimLeft(s[i+1:], "+-"))
}

// magnitude reads an unsigned decimal, fraction or mixed number.
func magnitude(s string) (*big.Rat, bool) {
	num, den, fraction := strings.Cut(s, "/")
	if !fraction {
		if !isDecimal(s) {
			return nil, false
		}
		r, ok := new(big.Rat).SetString(s)
		return r, ok
	}
	whole := "0"
	mixed := false
	if i := strings.LastIndexAny(num, "- "); i >= 0 {
		whole, num, mixed = strings.TrimSpace(num[:i]), num[i+1:], true
	}
	if !isInteger(whole) || !isInteger(num) || !isInteger(den) {
		return nil, false
	}
	n, _ := new(big.Int).SetString(num, 10)
	d, _ := new(big.Int).SetString(den, 10)
	w, _ := new(big.Int).SetString(whole, 10)
	// In a mixed number the fraction is proper: 4-5/4 is a slip of the pen.
	if d.Sign() == 0 || (mixed && n.Cmp(d) >= 0) {
		return nil, false
	}
	r := new(big.Rat).SetFrac(n, d)
	return r.Add(r, new(big.Rat).SetInt(w)), true
}

func isInteger(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return s != ""
}

// isDecimal reports whether s has digits and at most one point, and at least one
// digit.
func isDecimal(s string) bool {
	whole, frac, _ := strings.Cut(s, ".")
	return (isInteger(whole) && (frac == "" || isInteger(frac))) || (whole == "" && isInteger(frac))
}

// finite gives r as a decimal, if its reduced denominator has no prime factor
// but 2 and 5.
func finite(r *big.Rat) (decimal.Decimal, bool) {
	den := new(big.Int).Set(r.Denom())
	var twos, fives int32
	var rest big.Int
	for two := big.NewInt(2); ; twos++ {
		q, m := new(big.Int).QuoRem(den, two, &rest)
		if m.Sign() != 0 {
			break
		}
		den = q
	}
	for five := big.NewInt(5); ; fives++ {
		q, m := new(big.Int).QuoRem(den, five, &rest)
		if m.Sign() != 0 {
			break
		}
		den = q
	}
	if !den.IsInt64() || den.Int64() != 1 {
		return decimal.Decimal{}, false
	}
	places := max(twos, fives)
	scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(places)), nil)
	n := new(big.Int).Mul(r.Num(), scale)
	n.Quo(n, r.Denom())
	return decimal.NewFromBigInt(n, -places), true
}

// truncated writes r's first places decimals, cut off rather than rounded.
func truncated(r *big.Rat, places int) string {
	s := r.FloatString(places + 20)
	return s[:len(s)-20]
}

func inWords(u transform.Unit) string {
	if u == transform.Inch {
		return "inches"
	}
	return "mm"
}

// short cuts a text from outside for a message.
func short(s string) string {
	if len(s) > 60 {
		return s[:57] + "..."
	}
	return s
}

// ParseSize reads a blank's size WxHxT, each length as ParseLength takes it and
// greater than zero. Where only the last length carries a unit, it must be u:
// otherwise it isn't clear whose unit it is.
func ParseSize(s string, u transform.Unit) (Blank, error) {
	parts := strings.FieldsFunc(s, func(r rune) bool { return r == 'x' || r == 'X' || r == '×' })
	if n := strings.Count(strings.ToLower(strings.ReplaceAll(s, "×", "x")), "x"); len(parts) != 3 || n != 2 {
		return Blank{}, &Error{Found: fmt.Sprintf("%q is no size", short(s)),
			Expected: "three lengths WxHxT such as 120x80x12 or 4-3/4x3-1/8x1/2",
			Hint:     "W along X, H along Y, T thick, as the blank lies face up"}
	}
	named := func(p string) (unit transform.Unit, ok bool) {
		p = strings.ToLower(strings.TrimSpace(p))
		switch {
		case strings.HasSuffix(p, "mm"):
			return transform.MM, true
		case strings.HasSuffix(p, "in"):
			return transform.Inch, true
		}
		return u, false
	}
	if unit, last := named(parts[2]); last && unit != u {
		_, first := named(parts[0])
		_, second := named(parts[1])
		if !first && !second {
			return Blank{}, &Error{Found: fmt.Sprintf("%q names %s at the end only, and ‹units› is %s", short(s), unit, u),
				Expected: "a unit behind each length",
				Hint:     fmt.Sprintf("for example %s%sx%s%sx%s", parts[0], unit, parts[1], unit, parts[2])}
		}
	}
	var d [3]decimal.Decimal
	for i, p := range parts {
		v, err := ParseLength(p, u)
		if err != nil {
			return Blank{}, err
		}
		d[i] = v
	}
	b := Blank{W: d[0], H: d[1], T: d[2]}
	return b, b.check()
}

// check refuses sizes that no blank has.
func (b Blank) check() error {
	names := [...]string{"width W", "height H", "thickness T"}
	for i, v := range []decimal.Decimal{b.W, b.H, b.T} {
		if v.Sign() <= 0 {
			return &Error{Found: fmt.Sprintf("the %s is %s", names[i], v), Expected: "a length greater than 0"}
		}
	}
	return nil
}

// list splits s at commas and reads each part as a length.
func list(s string, u transform.Unit, least, most int, form string) ([]decimal.Decimal, error) {
	parts := strings.Split(s, ",")
	if len(parts) < least || len(parts) > most {
		return nil, &Error{Found: fmt.Sprintf("%q", short(s)), Expected: form}
	}
	d := make([]decimal.Decimal, len(parts))
	for i, p := range parts {
		v, err := ParseLength(p, u)
		if err != nil {
			return nil, err
		}
		d[i] = v
	}
	return d, nil
}

// ParsePoint reads X,Y.
func ParsePoint(s string, u transform.Unit) (Point, error) {
	d, err := list(s, u, 2, 2, "X,Y such as 20,40")
	if err != nil {
		return Point{}, err
	}
	return Point{X: d[0], Y: d[1]}, nil
}

// ParsePosition reads X,Y or X,Y,Z.
func ParsePosition(s string, u transform.Unit) (Position, error) {
	d, err := list(s, u, 2, 3, "X,Y or X,Y,Z such as 50,60,-20")
	if err != nil {
		return Position{}, err
	}
	p := Position{X: d[0], Y: d[1]}
	if len(d) == 3 {
		p.Z = &d[2]
	}
	return p, nil
}

// ParsePin reads X,Y or X,Y,DIA.
func ParsePin(s string, u transform.Unit) (Pin, error) {
	return parsePin(s, u, 2, "X,Y or X,Y,DIA such as 60,12,6")
}

// ParseBore reads X,Y,DIA.
func ParseBore(s string, u transform.Unit) (Pin, error) {
	return parsePin(s, u, 3, "X,Y,DIA such as 60,60,22")
}

func parsePin(s string, u transform.Unit, least int, form string) (Pin, error) {
	d, err := list(s, u, least, 3, form)
	if err != nil {
		return Pin{}, err
	}
	p := Pin{At: Point{X: d[0], Y: d[1]}}
	if len(d) == 3 {
		if d[2].Sign() <= 0 {
			return Pin{}, &Error{Found: "the diameter is " + d[2].String(), Expected: "a length greater than 0"}
		}
		p.Dia = d[2]
	}
	return p, nil
}
