package motion

import (
	"fmt"
	"math"
	"math/big"
)

// tree is an expression that was read and can be evaluated again and again.
type tree struct {
	op   op
	name string // of a function or a parameter
	at   int    // byte of the text that an error is about
	n    amount // of a constant
	a, b *tree
}

// op is what a tree does with its branches.
type op uint8

const (
	opConstant op = iota
	opParameter
	opNegate
	opMultiply
	opDivide
	opModulus
	opRaise
	opAdd
	opSubtract
	opAnd
	opOr
	opXor
	opEqual
	opUnequal
	opGreater
	opGreaterEqual
	opLess
	opLessEqual
	opCall
	opAngle // ATAN[..]/[..]
)

// compile reads the number, parameter, expression or function at text[at] and gives the
// place after it. With bare, + - * / may follow without brackets, as in #1+2 (common
// practice, from memory). Beyond NISTIR 6556, 3.3.2, it takes the comparisons EQ NE GT GE
// LT LE (common practice, from memory) and names, #<depth>.
func compile(text []byte, at int, bare bool) (t *tree, end int, err error) {
	e := source{text: text, at: at}
	if bare {
		t, err = e.bareSum()
	} else {
		t, err = e.value()
	}
	return t, e.end(), err
}

// True evaluates a condition: anything but 0 is true.
func (t *tree) True(p *parameters) (bool, error) {
	n, err := t.Value(p)
	return n.sign() != 0, err
}

// vacant reports #0, which on many controls is a parameter that nobody sets: EQ #0 and NE
// #0 ask whether a parameter is set, and a setting to #0 takes its value away (common
// practice, from memory).
func (t *tree) vacant() bool {
	return t.op == opParameter && t.name == "" && t.a.op == opConstant && t.a.n.sign() == 0
}

// key works out which parameter t is.
func (t *tree) key(p *parameters) (parameter, error) {
	if t.name != "" {
		return parameter{name: t.name}, nil
	}
	if i, whole := t.a.n.n.Int(); t.a.op == opConstant && whole && i >= 1 && i <= lastParameter {
		return parameter{number: int(i)}, nil
	}
	n, err := t.a.Value(p)
	if err != nil {
		return parameter{}, err
	}
	// NISTIR 6556 takes a number within 0.0001 of a whole one.
	v := n.Rat()
	i := round(v)
	d := new(big.Rat).Sub(v, new(big.Rat).SetInt(i))
	if d.Abs(d).Cmp(big.NewRat(1, 10_000)) > 0 || !i.IsInt64() || i.Int64() < 1 || i.Int64() > lastParameter {
		return parameter{}, refusal(t.a.at, "parameter number "+v.RatString(), fmt.Sprintf("a whole number from 1 to %d", lastParameter))
	}
	return parameter{number: int(i.Int64())}, nil
}

// Value gives the tree's value. An error is a *fault.Error whose Col counts in the text
// that was compiled.
func (t *tree) Value(p *parameters) (n amount, err error) {
	switch {
	case t.op == opConstant:
		return t.n, nil
	case t.op == opParameter:
		return t.parameter(p)
	case (t.op == opEqual || t.op == opUnequal) && (t.a.vacant() || t.b.vacant()):
		return t.set(p)
	}
	a, err := t.a.Value(p)
	if err != nil {
		return a, err
	}
	var b amount
	if t.b != nil {
		if b, err = t.b.Value(p); err != nil {
			return b, err
		}
	}
	n, what := t.join(a, b)
	if what == "" && n.unwieldy() {
		what = "a number that is too large or too fine"
	}
	if what != "" {
		return n, refusal(t.at, what, "")
	}
	if name := t.differs(a, b); name != "" {
		p.differs = name
	}
	return n, nil
}

// parameter gives the value of the parameter that t is.
func (t *tree) parameter(p *parameters) (amount, error) {
	k, err := t.key(p)
	if err != nil {
		return amount{}, err
	}
	n, ok, err := p.get(k, t.at)
	switch {
	case err != nil:
		return n, err
	case !ok:
		return n, refusal(t.at, k.String()+", which the program hasn't set", "a block that sets it first")
	}
	return n, nil
}

// join applies t's operator or function to the values of its branches; what says why it
// can't.
func (t *tree) join(a, b amount) (n amount, what string) {
	switch t.op {
	case opNegate:
		return a.minus(), ""
	case opCall:
		return function(t.name, a)
	case opAdd:
		return a.plus(b), ""
	case opSubtract:
		return a.plus(b.minus()), ""
	case opMultiply:
		return a.times(b), ""
	case opRaise:
		return power(a.Rat(), b.Rat())
	case opDivide, opModulus:
		switch {
		case b.sign() == 0:
			return n, "a division by 0"
		case t.op == opDivide:
			return a.over(b), ""
		}
		return modulo(a.Rat(), b.Rat()), ""
	case opAngle:
		if a.sign() == 0 && b.sign() == 0 {
			return n, "ATAN[0]/[0]"
		}
		return nearly(math.Atan2(a.Float(), b.Float()) / degree), ""
	}
	return truth(t.decide(a, b)), ""
}

// set compares with #0: whether the other side is a parameter that isn't set.
func (t *tree) set(p *parameters) (amount, error) {
	other := t.a
	if other.vacant() {
		other = t.b
	}
	vacant := other.vacant()
	if other.op == opParameter && !vacant {
		k, err := other.key(p)
		if err != nil {
			return amount{}, err
		}
		_, known, err := p.get(k, other.at)
		if err != nil {
			return amount{}, err
		}
		vacant = !known
	} else if !vacant {
		if _, err := other.Value(p); err != nil {
			return amount{}, err
		}
	}
	return truth(vacant == (t.op == opEqual)), nil
}

// differs names what t does to a negative number where NISTIR 6556 goes down and other
// controls go toward zero or away from it (common practice, from memory): FIX and FUP of a
// broken number, MOD of any.
func (t *tree) differs(a, b amount) string {
	switch {
	case t.op == opModulus && (a.sign() < 0 || b.sign() < 0):
		return "MOD of a negative number"
	case t.op == opCall && (t.name == "FIX" || t.name == "FUP") && a.sign() < 0 && !a.Rat().IsInt():
		return t.name + " of a negative number"
	}
	return ""
}

// truth is 1 for true and 0 for false.
func truth(yes bool) amount {
	if yes {
		return exactly(one)
	}
	return amount{}
}

// decide compares two values, or joins two truths.
func (t *tree) decide(a, b amount) bool {
	switch t.op {
	case opAnd:
		return a.sign() != 0 && b.sign() != 0
	case opOr:
		return a.sign() != 0 || b.sign() != 0
	case opXor:
		return (a.sign() != 0) != (b.sign() != 0)
	case opEqual:
		return a.cmp(b) == 0
	case opUnequal:
		return a.cmp(b) != 0
	case opGreater:
		return a.cmp(b) > 0
	case opGreaterEqual:
		return a.cmp(b) >= 0
	case opLess:
		return a.cmp(b) < 0
	case opLessEqual:
		return a.cmp(b) <= 0
	}
	return false
}

// assignment is a parameter setting that was read.
type assignment struct {
	at     int
	end    int // the byte behind its value
	target *tree
	value  *tree
}

// compileSetting reads a parameter setting such as "#3=[1+2]" or "#3=#1+2" at text[at].
func compileSetting(text []byte, at int) (s *assignment, end int, err error) {
	e := source{text: text, at: at}
	s, err = e.setting()
	return s, e.end(), err
}

// number gives the parameter's number where it is written as one, else 0.
func (s *assignment) number() int {
	if s.target.name != "" || s.target.a.op != opConstant {
		return 0
	}
	k, _ := s.target.key(nil)
	return k.number
}

// pending is a setting that takes effect once all of its block was read.
type pending struct {
	k      parameter
	n      amount
	vacant bool // it takes the value away
}

// evaluate works a setting out.
func (s *assignment) evaluate(p *parameters) (pending, error) {
	k, err := s.target.key(p)
	if err == nil && k.number >= firstReserved {
		err = refusal(s.at, fmt.Sprintf("a setting of parameter #%d, which belongs to the control", k.number), fmt.Sprintf("a parameter below #%d", firstReserved))
	}
	if err != nil || s.value.vacant() {
		return pending{k: k, vacant: true}, err
	}
	n, err := s.value.Value(p)
	return pending{k: k, n: n}, err
}

// apply sets the parameter.
func (s pending) apply(p *parameters) {
	if s.vacant {
		delete(p.set, s.k)
		return
	}
	p.put(s.k, s.n)
}
