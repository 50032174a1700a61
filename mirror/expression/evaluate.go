package expression

import "math/big"

// Limits of parameter numbers (NISTIR 6556, 3.2.1): from firstReserved on they
// belong to the control, for probing, homes and offsets.
const (
	last          = 5399
	firstReserved = 5061
)

// Evaluate reads the number, parameter, expression or function that begins at
// text[at], blanks in front allowed, and gives its value and the place after it.
// An error is a *fault.Error whose Col counts from the start of the text.
func Evaluate(text []byte, at int, p *Parameters) (v *big.Rat, end int, err error) {
	e := reading{text: text, at: at}
	t, err := e.value()
	if err != nil {
		return nil, e.end(), err
	}
	n, err := t.value(p, true)
	if err != nil {
		return nil, e.end(), err
	}
	return n.Rat(), e.end(), nil
}

// Setting reads a parameter setting such as "#3=[1+2]" at text[at]. The caller sets
// the parameter once all of the block was read (NISTIR 6556, 3.3.3).
func Setting(text []byte, at int, p *Parameters) (index int, v *big.Rat, end int, err error) {
	e := reading{text: text, at: at}
	s, err := e.setting()
	if err != nil {
		return 0, nil, e.at, err
	}
	k, n, err := s.evaluate(p, true)
	if err != nil {
		return 0, nil, e.at, err
	}
	return k.number, n.Rat(), e.end(), nil
}
