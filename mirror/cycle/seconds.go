package cycle

import (
	"bytes"
	"math"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// seconds is what a side's own programs take, without tool changes.
func (s *Source) seconds(o *Options) (total float64, err error) {
	for _, src := range s.all() {
		sum, err := motion.Walk(bytes.NewReader(src.Text), motion.Options{Name: src.Name, Unit: src.Unit, AbsoluteCentres: src.AbsoluteCentres, Inert: src.Inert,
			ArcTolerance: o.ArcTolerance, Rates: o.Rates}, nil)
		if err != nil {
			return 0, err
		}
		total += sum.Seconds
	}
	return total, nil
}

// carriage follows the tool in machine coordinates, in mm, for the moves whose
// length the interpreter alone can't tell: those between two offsets, to the clear
// height and down from it. With tool lengths from G43 the heights are off by the
// difference of two tools, which a time may be.
type carriage struct {
	zero    map[int][3]*float64 // by offset
	rates   motion.Rates
	at      [3]float64
	known   [3]bool
	seconds float64
}

// between is what the moves between stations take.
func (m *merger) between(text []byte) (float64, error) {
	c := &carriage{zero: map[int][3]*float64{}, rates: motion.DefaultRates}
	if m.o.Rates != nil {
		c.rates = *m.o.Rates
	}
	mm := func(d *decimal.Decimal) *float64 {
		if d == nil {
			return nil
		}
		v := d.InexactFloat64() * m.o.Unit.MM()
		return &v
	}
	for _, p := range m.o.Pairs {
		for _, s := range []Station{p.Face, p.Back} {
			c.zero[transform.OffsetCode(s.Offset)] = [3]*float64{mm(s.ZeroX), mm(s.ZeroY), mm(s.ZeroZ)}
		}
	}
	_, err := motion.Walk(bytes.NewReader(text), motion.Options{AbsoluteCentres: m.centresAssumed(), Inert: m.inert(), ArcTolerance: m.o.ArcTolerance}, c.move)
	return c.seconds, err
}

// move follows one move. A place that isn't known stays unknown until it is given.
func (c *carriage) move(m *motion.Move) error {
	var d [3]float64
	l, sure := 0.0, true
	for a := range 3 {
		to, ok := c.target(m, a)
		switch {
		case !ok && (m.Home || m.ToOK[a]):
			c.known[a], sure = false, false // it goes somewhere
		case ok:
			d[a] = to - c.at[a]
			sure = sure && c.known[a]
			c.at[a], c.known[a] = to, true
			l += d[a] * d[a]
		}
	}
	if _, measured := m.Length(); measured || !sure || m.Kind != motion.Rapid || l == 0 {
		return nil
	}
	l = math.Sqrt(l)
	for a := range d {
		d[a] /= l
	}
	v, acc := c.rates.Along(d)
	c.seconds += motion.Ramp(l, v, acc)
	return nil
}

// target gives a move's end along one axis in machine coordinates, where known.
func (c *carriage) target(m *motion.Move, axis int) (float64, bool) {
	if !m.ToOK[axis] {
		return 0, false
	}
	at := m.To[axis].Float() * m.State.Unit.MM()
	if m.Machine {
		return at, true
	}
	zero := c.zero[m.State.Offset][axis]
	if zero == nil {
		return 0, false
	}
	return at + *zero, true
}
