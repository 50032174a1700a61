package expression

// Limits of parameter numbers (NISTIR 6556, 3.2.1): from firstReserved on they
// belong to the control, for probing, homes and offsets.
const (
	last          = 5399
	firstReserved = 5061
)

// Parameters are the values that a program has set, by number (#1 to #5399) or by name.
// The zero value is ready to use.
type Parameters struct {
	set   map[int]Number
	named map[string]Number
}

// key is what a parameter is called: a number, or a name where it has one.
type key struct {
	number int
	name   string
}

// get gives a parameter that the program has set.
func (p *Parameters) get(k key) (n Number, ok bool) {
	if k.name != "" {
		n, ok = p.named[k.name]
	} else {
		n, ok = p.set[k.number]
	}
	return n, ok
}

func (p *Parameters) put(k key, v Number) {
	if k.name != "" {
		if p.named == nil {
			p.named = map[string]Number{}
		}
		p.named[k.name] = v
		return
	}
	if p.set == nil {
		p.set = map[int]Number{}
	}
	p.set[k.number] = v
}

func (p *Parameters) drop(k key) {
	if k.name != "" {
		delete(p.named, k.name)
		return
	}
	delete(p.set, k.number)
}

// Locals are the parameters that belong to one call: #1 to some number, and names that
// don't begin with an underscore.
type Locals struct {
	most  int
	set   map[int]Number
	named map[string]Number
}

// Enter puts the locals #1 to #most and the local names away and gives the call its own:
// arguments, by number. What it returns goes to Leave. Locals of a call are common
// practice, from memory.
func (p *Parameters) Enter(most int, arguments map[int]Number) Locals {
	l := Locals{most, map[int]Number{}, map[string]Number{}}
	for i := 1; i <= most; i++ {
		if v, ok := p.set[i]; ok {
			l.set[i] = v
			delete(p.set, i)
		}
	}
	for name, v := range p.named {
		if name[0] != '_' {
			l.named[name] = v
			delete(p.named, name)
		}
	}
	for i, v := range arguments {
		p.put(key{number: i}, v)
	}
	return l
}

// Leave brings back the locals of the caller.
func (p *Parameters) Leave(l Locals) {
	for i := 1; i <= l.most; i++ {
		delete(p.set, i)
	}
	for name := range p.named {
		if name[0] != '_' {
			delete(p.named, name)
		}
	}
	for i, v := range l.set {
		p.put(key{number: i}, v)
	}
	for name, v := range l.named {
		p.put(key{name: name}, v)
	}
}
