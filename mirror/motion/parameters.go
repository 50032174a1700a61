package motion

import (
	"fmt"
	"maps"

	"flipcalc/mirror/fault"
)

// Limits of parameter numbers (NISTIR 6556, 3.2.1): from firstReserved on they
// belong to the control, for probing, homes and offsets.
const (
	lastParameter = 5399
	firstReserved = 5061
)

// parameter is what a parameter is called: a number from 1 on, or a name in lower case.
type parameter struct {
	number int
	name   string
}

func (p parameter) String() string {
	if p.name != "" {
		return "parameter #<" + p.name + ">"
	}
	return fmt.Sprintf("parameter #%d", p.number)
}

// local reports a parameter that belongs to one call: #1 to some number, and names that
// don't begin with an underscore.
func (p parameter) local(most int) bool {
	return p.name != "" && p.name[0] != '_' || p.number > 0 && p.number <= most
}

// parameters are the values that a program has set. The zero value is ready to use.
type parameters struct {
	set     map[parameter]amount
	differs string // what was worked out that controls round in different ways, "" for nothing
	setting []setIn
}

// setIn is a parameter that the block being worked out sets, and the byte behind its value.
type setIn struct {
	k   parameter
	end int
}

// begin takes what a block sets before its numbers are worked out.
func (p *parameters) begin(b *Block) error {
	if len(b.sums)+len(b.settings) < 2 {
		return nil // none is read behind it
	}
	for _, s := range b.settings {
		k, err := s.target.key(p)
		if err != nil {
			return err
		}
		p.setting = append(p.setting, setIn{k, s.end})
	}
	return nil
}

// get gives the value of the parameter that is read at a byte of the block; ok is false where
// nobody set it. Behind its own setting NISTIR 6556, 3.3.3, still takes the old value, while
// many controls have the new one already (common practice): it is refused.
func (p *parameters) get(k parameter, at int) (v amount, ok bool, err error) {
	for _, s := range p.setting {
		if s.k == k && at >= s.end {
			return v, false, &fault.Error{Col: at + 1, Found: k.String() + " behind its setting in one block", Expected: "the setting in a block before it",
				Hint: "controls differ on whether the old value counts here: write two blocks"}
		}
	}
	v, ok = p.set[k]
	return v, ok, nil
}

func (p *parameters) put(k parameter, v amount) {
	if p.set == nil {
		p.set = map[parameter]amount{}
	}
	p.set[k] = v
}

// locals are the parameters of a caller, put away while a call runs.
type locals struct {
	most int
	set  map[parameter]amount
}

// enter puts the locals #1 to #most and the local names away and gives the call its own:
// arguments, by number. What it returns goes to leave. Locals of a call are common
// practice, from memory.
func (p *parameters) enter(most int, arguments map[int]amount) locals {
	l := locals{most, map[parameter]amount{}}
	for k, v := range p.set {
		if k.local(most) {
			l.set[k] = v
			delete(p.set, k)
		}
	}
	for i, v := range arguments {
		p.put(parameter{number: i}, v)
	}
	return l
}

// leave brings back the locals of the caller.
func (p *parameters) leave(l locals) {
	maps.DeleteFunc(p.set, func(k parameter, _ amount) bool { return k.local(l.most) })
	for k, v := range l.set {
		p.put(k, v)
	}
}
