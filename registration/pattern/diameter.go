package pattern

import (
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
	"flipcalc/registration/fit"
)

// diameters chooses or checks the pins' diameters, the thicker first; what it chooses is
// thinner than given.
func (s site) diameters(style Style, thinner decimal.Decimal) ([]decimal.Decimal, error) {
	n := 2
	if style == Pair {
		n = 1
	}
	if len(s.q.Hole) > 0 && style == Line && !s.holesOfTwo() {
		return nil, &registration.Error{About: "hole", Found: fmt.Sprintf("one hole of %s for two diameters", s.q.Hole[0]),
			Expected: "a ‹fit›, or a ‹hole› and a ‹diameter› for each of the two, or three dowels of one diameter"}
	}
	if len(s.o.Diameters) > 0 {
		return s.givenDiameters(n)
	}
	pins := fit.Pins(s.o.Standard)
	if len(s.q.Hole) > 0 {
		pins = slices.DeleteFunc(pins, func(p fit.Pin) bool { return !p.Registers().Holds(s.q.Hole[0]) })
		if len(pins) == 0 {
			return nil, noneRegisters(s.q.Hole[0], s.o.Standard)
		}
	}
	const more = "use more waste, a thicker blank, less depth over the dowels, or a fence and stop"
	none := &registration.Error{About: "margin", No: true, Found: "no two diameters far enough apart",
		Expected: fmt.Sprintf("room for standard dowels (%s)", s.o.Standard), Hint: more}
	var list []decimal.Decimal
	most := greatest.in(s.q.Unit)
	for i := len(pins) - 1; i >= 0 && len(list) < n; i-- {
		d := pins[i].Nominal
		switch {
		case d.GreaterThanOrEqual(thinner):
		case d.GreaterThan(most):
			if len(s.q.Hole) > 0 {
				none.About, none.Hint = "hole", fmt.Sprintf("for it give ‹diameter %s›", d)
				none.Found = fmt.Sprintf("a hole of %s is for a dowel of %s, and none thicker than %s is proposed", s.q.Hole[0], pins[i].Label, most)
			}
		default:
			if why, key := s.unfit(pins[i]); why != "" {
				none.About, none.Found, none.Hint = key, why, more
				continue
			}
			if len(list) == 0 || list[0].Sub(d).GreaterThanOrEqual(apart.in(s.q.Unit)) {
				list = append(list, d)
			}
		}
	}
	if len(list) < n {
		return nil, none
	}
	return list, nil
}

// givenDiameters checks the diameters that were given, the thicker first.
func (s site) givenDiameters(n int) ([]decimal.Decimal, error) {
	if len(s.o.Diameters) != n {
		return nil, &registration.Error{About: "diameter", Found: fmt.Sprintf("%d diameters", len(s.o.Diameters)),
			Expected: map[int]string{1: "one for dowels either side of the flip line", 2: "two different ones on the flip line"}[n]}
	}
	list := append([]decimal.Decimal{}, s.o.Diameters...)
	if n == 2 && list[1].GreaterThan(list[0]) {
		list[0], list[1] = list[1], list[0]
	}
	if n == 2 && list[0].Sub(list[1]).LessThan(apart.in(s.q.Unit)) {
		return nil, &registration.Error{About: "diameter", No: true, Found: fmt.Sprintf("%s and %s", s.o.Diameters[0], s.o.Diameters[1]),
			Expected: fmt.Sprintf("a difference of at least %s, so that the thicker dowel can't be pushed into the thinner one's hole", apart.in(s.q.Unit))}
	}
	for _, d := range list {
		pin, err := fit.Lookup(s.o.Standard, d)
		if err != nil {
			return nil, registration.About(err, "diameter")
		}
		if w, _ := s.unfit(pin); w != "" {
			return nil, &registration.Error{About: "diameter", No: true, Found: w, Expected: "a thinner dowel"}
		}
	}
	return list, nil
}

// unfit says why a pin can't stand in the blank, or "", and the flag that it rests
// on.
func (s site) unfit(pin fit.Pin) (why, flag string) {
	d := pin.Nominal
	if room := s.room(); room.LessThan(d) {
		switch {
		case s.o.Over.GreaterThan(s.q.Skimmed):
			return fmt.Sprintf("a dowel of %s has only %s of the blank to stand in, under a cut of %s", d, decimal.Max(room, decimal.Zero), s.o.Over), "over"
		case s.q.Skimmed.IsPositive():
			return fmt.Sprintf("a dowel of %s has only %s of the blank to stand in, once %s are skimmed off", d, decimal.Max(room, decimal.Zero), s.q.Skimmed), "skimmed"
		}
		return fmt.Sprintf("a dowel of %s has only %s of the blank to stand in", d, decimal.Max(room, decimal.Zero)), "stock"
	}
	if w := s.strip(d); s.o.Margin != nil && s.o.Margin.LessThan(w) {
		return fmt.Sprintf("a dowel of %s takes a strip of %s, the margin is %s", d, w, s.o.Margin), "margin"
	}
	if s.o.Spoilboard.IsPositive() {
		if _, _, _, _, ok := s.cutLength(pin); !ok {
			return fmt.Sprintf("no standard length suits a dowel of %s with %s of room in the blank and %s in the bed", d, s.room(), s.o.Spoilboard), "spoilboard"
		}
	}
	return "", ""
}

// noneRegisters says that no pin of a standard registers in a hole, and what would.
func noneRegisters(hole decimal.Decimal, s fit.Standard) error {
	e := &registration.Error{About: "hole", No: true,
		Found:    fmt.Sprintf("no dowel of %s registers in a hole of %s", s, hole),
		Expected: fmt.Sprintf("a dowel with a clearance of 0 to %s", fit.GreatestPlay(s.Unit()))}
	var below, above *fit.Pin
	for _, p := range fit.Pins(s) {
		if p.Size.Upper.GreaterThan(hole) {
			above = &p
			break
		}
		below = &p
	}
	var right []string
	if above != nil {
		right = append(right, above.Takes())
	}
	if below != nil {
		e.Found += fmt.Sprintf(": the thickest that goes in, %s, has a clearance of %s to %s", below.Label, hole.Sub(below.Size.Upper), hole.Sub(below.Size.Lower))
		right = append(right, below.Takes())
	}
	for o := fit.ISO8734; o <= fit.B18_8_2; o++ {
		for _, p := range fit.Pins(o) {
			if o.Unit() == s.Unit() && p.Registers().Holds(hole) {
				right = append(right, fmt.Sprintf("‹standard %s› has a dowel of %s for this hole", o.Key(), p.Label))
			}
		}
	}
	e.Hint = strings.Join(right, "; ")
	return e
}
