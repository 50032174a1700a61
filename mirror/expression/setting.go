package expression

import "fmt"

// Assignment is a parameter setting that was read.
type Assignment struct {
	at     int
	target *Tree
	value  *Tree
}

// CompileSetting reads a parameter setting such as "#3=[1+2]" or "#3=#1+2" at text[at].
func CompileSetting(text []byte, at int) (s *Assignment, end int, err error) {
	e := reading{text: text, at: at}
	s, err = e.setting()
	return s, e.end(), err
}

// Pending is a setting that takes effect with Apply, once all of its block was read.
type Pending struct {
	k    key
	n    Number
	none bool
}

// Number gives the parameter's number, 0 where it has a name.
func (s Pending) Number() int { return s.k.number }

// Evaluate works a setting out.
func (s *Assignment) Evaluate(p *Parameters) (Pending, error) {
	k, err := s.target.key(p)
	if err == nil && k.number >= firstReserved {
		err = refusal(s.at, fmt.Sprintf("a setting of parameter #%d, which belongs to the control", k.number), fmt.Sprintf("a parameter below #%d", firstReserved))
	}
	if err != nil || s.value.vacant() {
		return Pending{k: k, none: true}, err
	}
	n, err := s.value.Value(p)
	return Pending{k: k, n: n}, err
}

// Apply sets the parameter.
func (s Pending) Apply(p *Parameters) {
	if s.none {
		p.drop(s.k)
		return
	}
	p.put(s.k, s.n)
}
