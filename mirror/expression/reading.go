package expression

import (
	"fmt"
	"math/big"
	"strings"
)

// reading is an expression being read.
type reading struct {
	text  []byte
	at    int
	depth int
}

// end gives the place after the last byte taken, blanks that were looked through
// given back.
func (e *reading) end() int {
	for e.at > 0 && (e.text[e.at-1] == ' ' || e.text[e.at-1] == '\t') {
		e.at--
	}
	return e.at
}

// setting reads "#3=value".
func (e *reading) setting() (*Assignment, error) {
	start := e.at
	e.at++
	target, err := e.parameter(start)
	if err != nil {
		return nil, err
	}
	s := &Assignment{at: start, target: target}
	if e.peek() != '=' {
		if i := target.a; i != nil && i.op == constant && i.n.cmp(FromNano(firstReserved*scale)) >= 0 {
			if _, err := target.key(nil); err != nil {
				return nil, err
			}
		}
		return nil, e.fault("a parameter alone", "= and a value")
	}
	e.at++
	s.value, err = e.bareSum()
	return s, err
}

// maxDepth bounds how deep brackets and # may be nested.
const maxDepth = 100

// peek skips blanks and gives the next byte in upper case, 0 at the end.
func (e *reading) peek() byte {
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

func (e *reading) fault(found, expected string) error { return refusal(e.at, found, expected) }

// value reads one value.
func (e *reading) value() (*Tree, error) {
	if e.depth++; e.depth > maxDepth {
		return nil, e.fault(fmt.Sprintf("brackets nested more than %d deep", maxDepth), "a simpler expression")
	}
	defer func() { e.depth-- }()
	switch c := e.peek(); {
	case c == '#':
		start := e.at
		e.at++
		return e.parameter(start)
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
func (e *reading) signed(c byte) (*Tree, error) {
	start := e.at
	e.at++
	if d := e.peek(); d == '-' || d == '+' {
		return nil, e.fault("two signs", "a number")
	}
	t, err := e.value()
	switch {
	case err != nil || c == '+':
		return t, err
	case t.op == constant:
		t.n = t.n.minus()
		return t, nil
	}
	return &Tree{op: negate, at: start, a: t}, nil
}

// maxDigits bounds the length of a number.
const maxDigits = 1000

// number reads digits with at most one point.
func (e *reading) number() (*Tree, error) {
	e.peek()
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
	return &Tree{op: constant, at: start, n: fromRat(v)}, nil
}

// parameter reads what follows # at start: a number, a value or a name.
func (e *reading) parameter(start int) (*Tree, error) {
	if c := e.peek(); c != '<' {
		at := e.at
		a, err := e.value()
		if err != nil {
			return nil, err
		}
		switch a.op {
		case constant: // its key asks for no parameter's value
			a.at = at
			if _, err := (&Tree{a: a}).key(nil); err != nil && a.n.sign() != 0 {
				return nil, err
			}
		case negate:
			a.at = at
		}
		return &Tree{op: parameter, at: start, a: a}, nil
	}
	open := e.at
	name, err := e.angled()
	if err != nil {
		return nil, err
	}
	if name == "" || strings.ContainsAny(name, "#[]()") {
		return nil, refusal(open, fmt.Sprintf("the name %q", name), "a name such as #<depth>")
	}
	return &Tree{op: parameter, at: start, name: name}, nil
}

// angled reads "<name>": blanks left out, in lower case.
func (e *reading) angled() (string, error) {
	open := e.at
	var b strings.Builder
	for e.at++; e.at < len(e.text); e.at++ {
		switch c := e.text[e.at]; {
		case c == '>':
			e.at++
			return strings.ToLower(b.String()), nil
		case c != ' ' && c != '\t':
			b.WriteByte(c)
		}
	}
	return "", refusal(open, "a < that isn't closed", ">")
}

// brackets reads "[ ... ]".
func (e *reading) brackets() (*Tree, error) {
	if e.peek() != '[' {
		return nil, e.fault("a function without brackets", "[")
	}
	open := e.at
	e.at++
	t, err := e.condition()
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
	return t, nil
}

// call reads a function and its argument.
func (e *reading) call() (*Tree, error) {
	start := e.at
	name := e.name()
	switch name {
	case "ABS", "ACOS", "ASIN", "COS", "EXP", "FIX", "FUP", "LN", "ROUND", "SIN", "SQRT", "TAN":
		a, err := e.brackets()
		return &Tree{op: call, name: name, at: start, a: a}, err
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
		return &Tree{op: angle, at: start, a: y, b: x}, err
	}
	if strings.HasPrefix(name, "O") {
		return nil, refusal(start, fmt.Sprintf("%q", name), "a number: is the letter O written for a zero?")
	}
	return nil, refusal(start, fmt.Sprintf("%q", name), "a number or a function of NISTIR 6556, 3.3.2.4")
}

// name reads letters, blanks inside allowed.
func (e *reading) name() string {
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

// Operators in the three groups of NISTIR 6556, 3.3.2.3, the tightest first, and
// comparisons, which come last (common practice, from memory). Inside a group they are
// taken from left to right.

// binary reads operands of a group, tighter ones, with its operators between them.
func (e *reading) binary(operand func() (*Tree, error), group map[string]op) (*Tree, error) {
	t, err := operand()
	for err == nil {
		e.peek()
		at := e.at
		name := e.operator()
		o, ok := group[name]
		if !ok {
			break
		}
		e.skip(name)
		var b *Tree
		b, err = operand()
		t = &Tree{op: o, at: at, a: t, b: b}
	}
	return t, err
}

var (
	powers      = map[string]op{"**": raise}
	products    = map[string]op{"*": multiply, "/": divide, "MOD": modulus}
	sums        = map[string]op{"+": add, "-": subtract, "OR": or, "XOR": xor, "AND": and}
	comparisons = map[string]op{"EQ": equal, "NE": unequal, "GT": greater, "GE": greaterEqual, "LT": less, "LE": lessEqual}
	additions   = map[string]op{"+": add, "-": subtract}
	factors     = map[string]op{"*": multiply, "/": divide}
)

func (e *reading) power() (*Tree, error)   { return e.binary(e.value, powers) }
func (e *reading) product() (*Tree, error) { return e.binary(e.power, products) }

// condition reads what stands in brackets. Where there is a comparison, AND, OR and XOR
// bind less than it; without one they stand in one group with + and - (NISTIR 6556).
func (e *reading) condition() (*Tree, error) {
	t, err := e.product()
	if err != nil {
		return nil, err
	}
	operands, between := []*Tree{t}, []operator{}
	compares := false
	for {
		e.peek()
		o := operator{at: e.at}
		name := e.operator()
		var ok, compared bool
		if o.op, ok = sums[name]; !ok {
			o.op, compared = comparisons[name]
		}
		if !ok && !compared {
			break
		}
		compares = compares || compared
		e.skip(name)
		if t, err = e.product(); err != nil {
			return nil, err
		}
		operands, between = append(operands, t), append(between, o)
	}
	groups := [][2]op{{add, lessEqual}}
	if compares {
		groups = [][2]op{{add, subtract}, {equal, lessEqual}, {and, xor}}
	}
	for _, g := range groups {
		k := 0
		for i, o := range between {
			if o.op >= g[0] && o.op <= g[1] {
				operands[k] = &Tree{op: o.op, at: o.at, a: operands[k], b: operands[i+1]}
				continue
			}
			between[k] = o
			k++
			operands[k] = operands[i+1]
		}
		operands, between = operands[:k+1], between[:k]
	}
	return operands[0], nil
}

// operator is one between two values.
type operator struct {
	op op
	at int
}

// bareSum reads arithmetic without brackets.
func (e *reading) bareSum() (*Tree, error) {
	product := func() (*Tree, error) { return e.binary(e.power, factors) }
	return e.binary(product, additions)
}

// operator names the operator that comes next, "" if none, without taking it.
func (e *reading) operator() string {
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
		for _, op := range []string{"MOD", "OR", "XOR", "AND", "EQ", "NE", "GT", "GE", "LT", "LE"} {
			e.at = start
			if e.matches(op) {
				return op
			}
		}
	}
	return ""
}

// matches reports whether the letters of word come next, blanks between allowed.
func (e *reading) matches(word string) bool {
	for i := range len(word) {
		if e.peek() != word[i] {
			return false
		}
		e.at++
	}
	return true
}

// skip takes the operator that operator named.
func (e *reading) skip(op string) {
	e.peek()
	for i := range len(op) {
		if e.peek() == op[i] {
			e.at++
		}
	}
}
