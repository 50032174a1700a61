package expression

import (
	"fmt"
	"math/big"
)

// Tree is an expression that was read and can be evaluated again and again.
type Tree struct {
	op   op
	name string // of a function or a parameter
	at   int    // byte of the text that an error is about
	n    Number // of a constant
	a, b *Tree
}

// op is what a tree does with its branches.
type op uint8

const (
	constant op = iota
	parameter
	negate
	multiply
	divide
	modulus
	raise
	add
	subtract
	and
	or
	xor
	equal
	unequal
	greater
	greaterEqual
	less
	lessEqual
	call
	angle // ATAN[..]/[..]
)

// Compile reads the number, parameter, expression or function at text[at] and gives the
// place after it. With bare, + - * / may follow without brackets, as in #1+2 (common
// practice, from memory). Beyond NISTIR 6556, 3.3.2, it takes the comparisons EQ NE GT GE
// LT LE (common practice, from memory) and names, #<depth>.
func Compile(text []byte, at int, bare bool) (t *Tree, end int, err error) {
	e := reading{text: text, at: at}
	if bare {
		t, err = e.bareSum()
	} else {
		t, err = e.value()
	}
	return t, e.end(), err
}

// True evaluates a condition: anything but 0 is true.
func (t *Tree) True(p *Parameters) (bool, error) {
	n, err := t.Value(p)
	return n.sign() != 0, err
}

// vacant reports #0, which on many controls is a parameter that nobody sets: EQ #0 and NE
// #0 ask whether a parameter is set, and a setting to #0 takes its value away (common
// practice, from memory).
func (t *Tree) vacant() bool {
	return t.op == parameter && t.name == "" && t.a.op == constant && t.a.n.sign() == 0
}

// key works out which parameter t is.
func (t *Tree) key(p *Parameters) (key, error) {
	if t.name != "" {
		return key{name: t.name}, nil
	}
	if t.a.op == constant && t.a.n.r == nil && t.a.n.v%scale == 0 && t.a.n.v >= scale && t.a.n.v <= last*scale {
		return key{number: int(t.a.n.v / scale)}, nil
	}
	n, err := t.a.Value(p)
	if err != nil {
		return key{}, err
	}
	// NISTIR 6556 takes a number within 0.0001 of a whole one.
	v := n.Rat()
	i := round(v)
	d := new(big.Rat).Sub(v, new(big.Rat).SetInt(i))
	if d.Abs(d).Cmp(big.NewRat(1, 10_000)) > 0 || !i.IsInt64() || i.Int64() < 1 || i.Int64() > last {
		return key{}, refusal(t.a.at, "parameter number "+v.RatString(), fmt.Sprintf("a whole number from 1 to %d", last))
	}
	return key{number: int(i.Int64())}, nil
}

// Value gives the tree's value. An error is a *fault.Error whose Col counts in the text
// that was compiled.
func (t *Tree) Value(p *Parameters) (n Number, err error) {
	switch t.op {
	case constant:
		return t.n, nil
	case parameter:
		k, err := t.key(p)
		if err != nil {
			return n, err
		}
		n, ok := p.get(k)
		switch {
		case ok:
			return n, nil
		case k.name != "":
			return n, refusal(t.at, fmt.Sprintf("parameter #<%s>, which the program hasn't set", k.name), "a parameter with a known value")
		}
		return n, refusal(t.at, fmt.Sprintf("parameter #%d, which the program hasn't set", k.number), "a parameter with a known value")
	}
	if (t.op == equal || t.op == unequal) && (t.a.vacant() || t.b.vacant()) {
		return t.set(p)
	}
	a, err := t.a.Value(p)
	if err != nil {
		return a, err
	}
	switch t.op {
	case negate:
		return a.minus(), nil
	case call:
		return t.function(a)
	}
	b, err := t.b.Value(p)
	if err != nil {
		return b, err
	}
	what := ""
	switch t.op {
	case add:
		n = a.plus(b)
	case subtract:
		n = a.plus(b.minus())
	case multiply:
		n = a.times(b)
	case divide, modulus:
		switch {
		case b.sign() == 0:
			what = "a division by 0"
		case t.op == divide:
			n = a.over(b)
		default:
			n = fromRat(modulo(a.Rat(), b.Rat()))
		}
	case raise:
		var r *big.Rat
		if r, what = power(a.Rat(), b.Rat()); what == "" {
			n = fromRat(r)
		}
	case angle:
		r, ok := arctangent(a.Rat(), b.Rat())
		if !ok {
			return n, refusal(t.at, "ATAN[0]/[0]", "")
		}
		return fromFloat(float(r)), nil
	default:
		return Number{v: scale * int64(t.decide(a, b))}, nil
	}
	if what != "" {
		return n, refusal(t.at, what, "")
	}
	return n, t.bound(&n)
}

// set compares with #0: whether the other side is a parameter that isn't set.
func (t *Tree) set(p *Parameters) (Number, error) {
	other := t.a
	if other.vacant() {
		other = t.b
	}
	vacant := other.vacant()
	if other.op == parameter && !vacant {
		k, err := other.key(p)
		if err != nil {
			return Number{}, err
		}
		_, known := p.get(k)
		vacant = !known
	} else if !vacant {
		if _, err := other.Value(p); err != nil {
			return Number{}, err
		}
	}
	if vacant == (t.op == equal) {
		return Number{v: scale}, nil
	}
	return Number{}, nil
}

// bound sees that a number isn't too large or too fine to go on with.
func (t *Tree) bound(n *Number) error {
	if n.r != nil && !fits(n.r) {
		*n = fromFloat(float(n.r))
	}
	if n.r != nil && !fits(n.r) || n.near && !(n.f < 1e300 && n.f > -1e300) {
		return refusal(t.at, "a number that is too large or too fine", "")
	}
	return nil
}

// decide gives 1 for true and 0 for false.
func (t *Tree) decide(a, b Number) int {
	yes := false
	switch t.op {
	case and:
		yes = a.sign() != 0 && b.sign() != 0
	case or:
		yes = a.sign() != 0 || b.sign() != 0
	case xor:
		yes = (a.sign() != 0) != (b.sign() != 0)
	case equal:
		yes = a.cmp(b) == 0
	case unequal:
		yes = a.cmp(b) != 0
	case greater:
		yes = a.cmp(b) > 0
	case greaterEqual:
		yes = a.cmp(b) >= 0
	case less:
		yes = a.cmp(b) < 0
	case lessEqual:
		yes = a.cmp(b) <= 0
	}
	if yes {
		return 1
	}
	return 0
}

// function applies a function of one argument.
func (t *Tree) function(a Number) (Number, error) {
	if f, ok := plainFunction(t.name, a.Float()); ok {
		return fromFloat(f), nil
	}
	r, what := function(t.name, a.Rat())
	if what != "" {
		return Number{}, refusal(t.at, what, "")
	}
	switch t.name {
	case "ABS", "FIX", "FUP", "ROUND", "SQRT":
		return fromRat(r), nil
	}
	return fromFloat(float(r)), nil
}
