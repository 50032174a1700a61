package motion

import (
	"cmp"
	"fmt"
	"strings"

	"flipcalc/mirror/fault"
)

// An expression is what may stand for a number in a block: numbers, parameters, brackets and
// functions (NISTIR 6556, 3.3.2). Sums, differences, products and quotients are exact
// fractions; a function whose value is no fraction gives the nearest float64, and so does
// what is made of it.

// refusal says what is wrong with an expression; at is a byte of the text. Whoever
// reads the file puts in its place.
func refusal(at int, found, expected string) error {
	return &fault.Error{Col: at + 1, Found: found, Expected: expected}
}

// source is an expression being read.
type source struct {
	text  []byte
	at    int
	depth int
}

// end gives the place after the last byte taken, blanks that were looked through
// given back.
func (e *source) end() int {
	for e.at > 0 && blank(e.text[e.at-1]) {
		e.at--
	}
	return e.at
}

// setting reads "#3=value".
func (e *source) setting() (*assignment, error) {
	start := e.at
	e.at++
	target, err := e.parameter(start)
	if err != nil {
		return nil, err
	}
	s := &assignment{at: start, target: target}
	if e.peek() != '=' {
		if i := target.a; i != nil && i.op == opConstant && i.n.cmp(exactly(FromInt(firstReserved))) >= 0 {
			if _, err := target.key(nil); err != nil {
				return nil, err
			}
		}
		return nil, e.fault("a parameter alone", "= and a value")
	}
	e.at++
	s.value, err = e.bareSum()
	s.end = e.end()
	return s, err
}

// deepest bounds how deep brackets and # may be nested.
const deepest = 100

// peek skips blanks and gives the next byte in upper case, 0 at the end.
func (e *source) peek() byte {
	if e.at = skipBlanks(e.text, e.at); e.at == len(e.text) {
		return 0
	}
	return upper(e.text[e.at])
}

func (e *source) fault(found, expected string) error { return refusal(e.at, found, expected) }

// value reads one value.
func (e *source) value() (*tree, error) {
	if e.depth++; e.depth > deepest {
		return nil, e.fault(fmt.Sprintf("brackets nested more than %d deep", deepest), "a simpler expression")
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
func (e *source) signed(c byte) (*tree, error) {
	start := e.at
	e.at++
	if d := e.peek(); d == '-' || d == '+' {
		return nil, e.fault("two signs", "a number")
	}
	t, err := e.value()
	switch {
	case err != nil || c == '+':
		return t, err
	case t.op == opConstant:
		t.n = t.n.minus()
		return t, nil
	}
	return &tree{op: opNegate, at: start, a: t}, nil
}

// number reads digits with at most one point.
func (e *source) number() (*tree, error) {
	start := e.at
	n, end, ok := scanNum(e.text, start)
	if !ok {
		at, found, expected := noNumber(e.text, start, end)
		return nil, refusal(at, cmp.Or(found, "a point without a digit"), expected)
	}
	e.at = end
	return &tree{op: opConstant, at: start, n: exactly(n)}, nil
}

// parameter reads what follows # at start: a number, a value or a name.
func (e *source) parameter(start int) (*tree, error) {
	if c := e.peek(); c != '<' {
		at := e.at
		a, err := e.value()
		if err != nil {
			return nil, err
		}
		switch a.op {
		case opConstant: // its key asks for no parameter's value
			a.at = at
			if _, err := (&tree{a: a}).key(nil); err != nil && a.n.sign() != 0 {
				return nil, err
			}
		case opNegate:
			a.at = at
		}
		return &tree{op: opParameter, at: start, a: a}, nil
	}
	open := e.at
	name, err := e.angled()
	if err != nil {
		return nil, err
	}
	if name == "" || strings.ContainsAny(name, "#[]()") {
		return nil, refusal(open, fmt.Sprintf("the name %q", name), "a name such as #<depth>")
	}
	return &tree{op: opParameter, at: start, name: name}, nil
}

// angled reads "<name>": blanks left out, in lower case.
func (e *source) angled() (string, error) {
	open := e.at
	var b strings.Builder
	for e.at++; e.at < len(e.text); e.at++ {
		switch c := e.text[e.at]; {
		case c == '>':
			e.at++
			return strings.ToLower(b.String()), nil
		case !blank(c):
			b.WriteByte(c)
		}
	}
	return "", refusal(open, "a < that isn't closed", ">")
}

// brackets reads "[ ... ]".
func (e *source) brackets() (*tree, error) {
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
func (e *source) call() (*tree, error) {
	start := e.at
	name := e.name()
	switch name {
	case "ABS", "ACOS", "ASIN", "COS", "EXP", "FIX", "FUP", "LN", "ROUND", "SIN", "SQRT", "TAN":
		a, err := e.brackets()
		return &tree{op: opCall, name: name, at: start, a: a}, err
	case "ATAN":
		y, err := e.brackets()
		if err != nil {
			return nil, err
		}
		if e.peek() != '/' { // of one number, from -90 to 90 degrees (common practice, from memory)
			return &tree{op: opAngle, at: start, a: y, b: &tree{op: opConstant, n: exactly(FromInt(1))}}, nil
		}
		e.at++
		x, err := e.brackets()
		return &tree{op: opAngle, at: start, a: y, b: x}, err
	}
	if name == "EXISTS" {
		return nil, &fault.Error{Col: start + 1, Found: "EXISTS, which asks what the control holds", Expected: "a number or a function of NISTIR 6556, 3.3.2.4",
			Hint: "set the parameter in the program and compare its value"}
	}
	if strings.HasPrefix(name, "O") {
		return nil, refusal(start, fmt.Sprintf("%q", name), "a number: is the letter O written for a zero?")
	}
	return nil, refusal(start, fmt.Sprintf("%q", name), "a number or a function of NISTIR 6556, 3.3.2.4")
}

// name reads letters, blanks inside allowed.
func (e *source) name() string {
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
func (e *source) binary(operand func() (*tree, error), group map[string]op) (*tree, error) {
	t, err := operand()
	for err == nil {
		name, at := e.operator()
		o, ok := group[name]
		if !ok {
			e.at = at
			break
		}
		var b *tree
		b, err = operand()
		t = &tree{op: o, at: at, a: t, b: b}
	}
	return t, err
}

var (
	powers      = map[string]op{"**": opRaise}
	products    = map[string]op{"*": opMultiply, "/": opDivide, "MOD": opModulus}
	sums        = map[string]op{"+": opAdd, "-": opSubtract, "OR": opOr, "XOR": opXor, "AND": opAnd}
	comparisons = map[string]op{"EQ": opEqual, "NE": opUnequal, "GT": opGreater, "GE": opGreaterEqual, "LT": opLess, "LE": opLessEqual}
	additions   = map[string]op{"+": opAdd, "-": opSubtract}
)

func (e *source) power() (*tree, error)   { return e.binary(e.value, powers) }
func (e *source) product() (*tree, error) { return e.binary(e.power, products) }

// condition reads what stands in brackets. Where there is a comparison, AND, OR and XOR
// bind less than it; without one they stand in one group with + and - (NISTIR 6556).
func (e *source) condition() (*tree, error) {
	t, err := e.product()
	if err != nil {
		return nil, err
	}
	operands, between := []*tree{t}, []operator{}
	compares := false
	for {
		name, at := e.operator()
		o := operator{at: at}
		var ok, compared bool
		if o.op, ok = sums[name]; !ok {
			o.op, compared = comparisons[name]
		}
		if !ok && !compared {
			e.at = at
			break
		}
		compares = compares || compared
		if t, err = e.product(); err != nil {
			return nil, err
		}
		operands, between = append(operands, t), append(between, o)
	}
	groups := [][2]op{{opAdd, opLessEqual}}
	if compares {
		groups = [][2]op{{opAdd, opSubtract}, {opEqual, opLessEqual}, {opAnd, opXor}}
	}
	for _, g := range groups {
		k := 0
		for i, o := range between {
			if o.op >= g[0] && o.op <= g[1] {
				operands[k] = &tree{op: o.op, at: o.at, a: operands[k], b: operands[i+1]}
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
func (e *source) bareSum() (*tree, error) { return e.binary(e.product, additions) }

// operator takes the operator that comes next and names it, "" if none; at is where it begins.
func (e *source) operator() (name string, at int) {
	c := e.peek()
	at = e.at
	switch {
	case c == '*':
		if e.at++; e.at < len(e.text) && e.text[e.at] == '*' {
			e.at++
			return "**", at
		}
		return "*", at
	case c == '+' || c == '-' || c == '/':
		e.at++
		return string(rune(c)), at
	case c >= 'A' && c <= 'Z':
		for _, word := range []string{"MOD", "OR", "XOR", "AND", "EQ", "NE", "GT", "GE", "LT", "LE"} {
			if e.at = at; e.matches(word) {
				return word, at
			}
		}
	}
	return "", at
}

// matches reports whether the letters of word come next, blanks between allowed.
func (e *source) matches(word string) bool {
	for i := range len(word) {
		if e.peek() != word[i] {
			return false
		}
		e.at++
	}
	return true
}
