package expression

import (
	"fmt"
	"math/big"
	"strings"
)

// Parameters are the numbered values #1 to #5399 that a program has set.
// The zero value is ready to use.
type Parameters struct {
	set map[int]*big.Rat
}

// Limits of parameter numbers (NISTIR 6556, 3.2.1): from firstReserved on they
// belong to the control, for probing, homes and offsets.
const (
	last          = 5399
	firstReserved = 5061
)

// Get gives a parameter that the program has set.
func (p *Parameters) Get(index int) (*big.Rat, bool) {
	v, ok := p.set[index]
	return v, ok
}

// Set sets a parameter.
func (p *Parameters) Set(index int, v *big.Rat) {
	if p.set == nil {
		p.set = map[int]*big.Rat{}
	}
	p.set[index] = v
}

// Clone gives an independent copy.
func (p *Parameters) Clone() Parameters {
	c := Parameters{}
	for i, v := range p.set {
		c.Set(i, v)
	}
	return c
}

// Equal reports whether the same parameters are set to the same values.
func (p *Parameters) Equal(q *Parameters) bool {
	if len(p.set) != len(q.set) {
		return false
	}
	for i, v := range p.set {
		if w, ok := q.set[i]; !ok || v.Cmp(w) != 0 {
			return false
		}
	}
	return true
}

// Evaluate reads the number, parameter, expression or function that begins at
// text[at], blanks in front allowed, and gives its value and the place after it.
// An error is a *fault.Error whose Col counts from the start of the text.
func Evaluate(text []byte, at int, p *Parameters) (v *big.Rat, end int, err error) {
	e := evaluation{text: text, at: at, p: p}
	v, err = e.value()
	return v, e.end(), err
}

// end gives the place after the last byte taken, blanks that were looked through
// given back.
func (e *evaluation) end() int {
	for e.at > 0 && (e.text[e.at-1] == ' ' || e.text[e.at-1] == '\t') {
		e.at--
	}
	return e.at
}

// Setting reads a parameter setting such as "#3=[1+2]" at text[at]. The caller sets
// the parameter once all of the block was read (NISTIR 6556, 3.3.3).
func Setting(text []byte, at int, p *Parameters) (index int, v *big.Rat, end int, err error) {
	e := evaluation{text: text, at: at + 1, p: p}
	start := at
	index, err = e.index()
	if err != nil {
		return 0, nil, e.at, err
	}
	if index >= firstReserved {
		return 0, nil, start, refusal(start, fmt.Sprintf("a setting of parameter #%d, which belongs to the control", index), fmt.Sprintf("a parameter below #%d", firstReserved))
	}
	if e.peek() != '=' {
		return 0, nil, e.at, refusal(e.at, "a parameter alone", "= and a value")
	}
	e.at++
	v, err = e.value()
	return index, v, e.end(), err
}

// maxDepth bounds how deep brackets and # may be nested.
const maxDepth = 100

// evaluation is one value being read.
type evaluation struct {
	text  []byte
	at    int
	depth int
	p     *Parameters
}

// peek skips blanks and gives the next byte in upper case, 0 at the end.
func (e *evaluation) peek() byte {
	for e.at < len(e.text) && (e.text[e.at] == ' ' || e.text[e.at] == '\t') {
		e.at++
	}
	if e.at == len(e.text) {
		return 0
	}
	c := e.text[e.at]
	if c >= 'a' && c <= 'z' {
		c -= 32
	}
	return c
}

func (e *evaluation) fault(found, expected string) error { return refusal(e.at, found, expected) }

// value reads one value.
func (e *evaluation) value() (*big.Rat, error) {
	if e.depth++; e.depth > maxDepth {
		return nil, e.fault(fmt.Sprintf("brackets nested more than %d deep", maxDepth), "a simpler expression")
	}
	defer func() { e.depth-- }()
	switch c := e.peek(); {
	case c == '#':
		start := e.at
		e.at++
		i, err := e.index()
		if err != nil {
			return nil, err
		}
		v, ok := e.p.Get(i)
		if !ok {
			return nil, refusal(start, fmt.Sprintf("parameter #%d, which the program hasn't set", i), "a parameter with a known value")
		}
		return v, nil
	case c == '[':
		return e.brackets()
	case c >= 'A' && c <= 'Z':
		return e.call()
	case c == '-' || c == '+':
		return e.signed(c)
	case c-'0' <= 9 || c == '.':
		return e.number()
	case c == 0:
		return nil, e.fault("the end of the line", "a number")
	default:
		return nil, e.fault(fmt.Sprintf("%q", c), "a number")
	}
}

// signed reads a value with a sign in front. NISTIR 6556 has signs before numbers
// only; before # and [ they are common practice.
func (e *evaluation) signed(c byte) (*big.Rat, error) {
	e.at++
	if d := e.peek(); d == '-' || d == '+' {
		return nil, e.fault("two signs", "a number")
	}
	v, err := e.value()
	if err != nil || c == '+' {
		return v, err
	}
	return new(big.Rat).Neg(v), nil
}

// maxDigits bounds the length of a number.
const maxDigits = 1000

// number reads digits with at most one point.
func (e *evaluation) number() (*big.Rat, error) {
	start := e.at
	var b strings.Builder
	digits, point := 0, false
	for {
		c := e.peek()
		if c == '.' {
			if point {
				return nil, e.fault("a second point in a number", "one point at most")
			}
			point = true
		} else if c-'0' <= 9 {
			digits++
		} else {
			break
		}
		b.WriteByte(c)
		e.at++
	}
	if digits == 0 || digits > maxDigits {
		return nil, refusal(start, fmt.Sprintf("a number of %d digits", digits), fmt.Sprintf("1 to %d digits", maxDigits))
	}
	v, ok := new(big.Rat).SetString(b.String())
	if !ok {
		return nil, refusal(start, "a number that can't be read", "a number")
	}
	return v, nil
}

// index reads the number of a parameter after #.
func (e *evaluation) index() (int, error) {
	if c := e.peek(); c == '<' {
		return 0, e.fault("a named parameter", "#1 to #5399")
	}
	start := e.at
	v, err := e.value()
	if err != nil {
		return 0, err
	}
	// NISTIR 6556 takes a number within 0.0001 of a whole one.
	n := round(v)
	d := new(big.Rat).Sub(v, new(big.Rat).SetInt(n))
	if d.Abs(d).Cmp(big.NewRat(1, 10_000)) > 0 || !n.IsInt64() || n.Int64() < 1 || n.Int64() > last {
		return 0, refusal(start, "parameter number "+v.RatString(), fmt.Sprintf("a whole number from 1 to %d", last))
	}
	return int(n.Int64()), nil
}

// brackets reads "[ ... ]".
func (e *evaluation) brackets() (*big.Rat, error) {
	if e.peek() != '[' {
		return nil, e.fault("a function without brackets", "[")
	}
	open := e.at
	e.at++
	v, err := e.sum()
	if err != nil {
		return nil, err
	}
	if c := e.peek(); c != ']' {
		if c == 0 {
			return nil, refusal(open, "a [ that isn't closed", "]")
		}
		return nil, e.fault(fmt.Sprintf("%q", c), "an operator or ]")
	}
	e.at++
	return v, nil
}

// call reads a function and its argument.
func (e *evaluation) call() (*big.Rat, error) {
	start := e.at
	name := e.name()
	switch name {
	case "ABS", "ACOS", "ASIN", "COS", "EXP", "FIX", "FUP", "LN", "ROUND", "SIN", "SQRT", "TAN":
		x, err := e.brackets()
		if err != nil {
			return nil, err
		}
		v, what := function(name, x)
		if what != "" {
			return nil, refusal(start, what, "")
		}
		return v, nil
	case "ATAN":
		y, err := e.brackets()
		if err != nil {
			return nil, err
		}
		if e.peek() != '/' {
			return nil, e.fault("ATAN of one number", "ATAN[..]/[..]")
		}
		e.at++
		x, err := e.brackets()
		if err != nil {
			return nil, err
		}
		v, ok := arctangent(y, x)
		if !ok {
			return nil, refusal(start, "ATAN[0]/[0]", "")
		}
		return v, nil
	}
	if strings.HasPrefix(name, "O") {
		return nil, refusal(start, fmt.Sprintf("%q", name), "a number: is the letter O written for a zero?")
	}
	return nil, refusal(start, fmt.Sprintf("%q", name), "a number or a function of NISTIR 6556, 3.3.2.4")
}

// name reads letters, blanks inside allowed.
func (e *evaluation) name() string {
	var b strings.Builder
	for b.Len() < 8 {
		c := e.peek()
		if c < 'A' || c > 'Z' {
			break
		}
		b.WriteByte(c)
		e.at++
	}
	return b.String()
}

// Operators in the three groups of NISTIR 6556, 3.3.2.3, the tightest first.
// Inside a group they are taken from left to right.

func (e *evaluation) power() (*big.Rat, error) {
	v, err := e.value()
	for err == nil && e.peek() == '*' && e.operator() == "**" {
		at := e.at
		e.at += 2
		var w *big.Rat
		if w, err = e.value(); err == nil {
			var what string
			if v, what = power(v, w); what != "" {
				err = refusal(at, what, "")
			}
		}
	}
	return v, err
}

func (e *evaluation) product() (*big.Rat, error) {
	v, err := e.power()
	for err == nil {
		at := e.at
		op := e.operator()
		if op != "*" && op != "/" && op != "MOD" {
			break
		}
		e.skip(op)
		var w *big.Rat
		if w, err = e.power(); err != nil {
			break
		}
		switch {
		case op == "*":
			v = new(big.Rat).Mul(v, w)
		case w.Sign() == 0:
			return nil, refusal(at, "a division by 0", "")
		case op == "/":
			v = new(big.Rat).Quo(v, w)
		default:
			v = modulo(v, w)
		}
		if !fits(v) {
			return nil, refusal(at, "a number that is too large or too fine", "")
		}
	}
	return v, err
}

func (e *evaluation) sum() (*big.Rat, error) {
	v, err := e.product()
	for err == nil {
		at := e.at
		op := e.operator()
		switch op {
		case "+", "-", "OR", "XOR", "AND":
		default:
			return v, nil
		}
		e.skip(op)
		var w *big.Rat
		if w, err = e.product(); err != nil {
			break
		}
		a, b := v.Sign() != 0, w.Sign() != 0
		switch op {
		case "+":
			v = new(big.Rat).Add(v, w)
		case "-":
			v = new(big.Rat).Sub(v, w)
		case "OR":
			v = truth(a || b)
		case "XOR":
			v = truth(a != b)
		case "AND":
			v = truth(a && b)
		}
		if !fits(v) {
			return nil, refusal(at, "a number that is too large or too fine", "")
		}
	}
	return v, err
}

// operator names the operator that comes next, "" if none, without taking it.
func (e *evaluation) operator() string {
	c := e.peek()
	start := e.at
	defer func() { e.at = start }()
	switch {
	case c == '*':
		if e.at++; e.at < len(e.text) && e.text[e.at] == '*' {
			return "**"
		}
		return "*"
	case c == '+' || c == '-' || c == '/':
		return string(rune(c))
	case c >= 'A' && c <= 'Z':
		for _, op := range []string{"MOD", "OR", "XOR", "AND"} {
			e.at = start
			if e.matches(op) {
				return op
			}
		}
	}
	return ""
}

// matches reports whether the letters of word come next, blanks between allowed.
func (e *evaluation) matches(word string) bool {
	for i := range len(word) {
		if e.peek() != word[i] {
			return false
		}
		e.at++
	}
	return true
}

// skip takes the operator that operator named.
func (e *evaluation) skip(op string) {
	e.peek()
	for i := range len(op) {
		if e.peek() == op[i] {
			e.at++
		}
	}
}
