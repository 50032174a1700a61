package registration

import (
	"fmt"
	"strconv"
	"strings"

	"flipcalc/mirror/transform"
)

// Correction is one round's shift of a pair's second zero after a test cut, by its X and
// Y, in the question's unit.
type Correction struct {
	Pair  int // from 1
	Shift Point
}

// CutPair takes the number of a pair off the front of N:REST; 1 where there is none.
func CutPair(s string) (pair int, rest string, err error) {
	number, after, has := strings.Cut(s, ":")
	if !has {
		return 1, s, nil
	}
	n, err := strconv.Atoi(strings.TrimSpace(number))
	if err != nil || n < 1 {
		return 0, "", &Error{Found: fmt.Sprintf("%q before the colon", short(number)), Expected: "the number of a pair, from 1"}
	}
	return n, after, nil
}

// ParseCorrection reads [PAIR:]DX,DY.
func ParseCorrection(s string, u transform.Unit) (Correction, error) {
	pair, rest, err := CutPair(s)
	if err != nil {
		return Correction{}, err
	}
	p, err := ParsePoint(rest, u)
	if err != nil {
		return Correction{}, &Error{Found: fmt.Sprintf("%q", short(s)), Expected: "DX,DY or PAIR:DX,DY, such as -0.12,0.05"}
	}
	return Correction{Pair: pair, Shift: p}, nil
}

// String writes what ParseCorrection reads.
func (c Correction) String() string {
	s := c.Shift.X.String() + "," + c.Shift.Y.String()
	if c.Pair != 1 {
		s = strconv.Itoa(c.Pair) + ":" + s
	}
	return s
}

// Corrected gives the answer for one pair with its second zero moved by the sum of the
// rounds of that pair; the same answer where there are none.
func (a *Answer) Corrected(pair int, rounds []Correction) *Answer {
	var sum Point
	n := 0
	for _, r := range rounds {
		if r.Pair == pair {
			sum, n = sum.add(r.Shift), n+1
		}
	}
	if n == 0 || a.Second == nil {
		return a
	}
	out := *a
	move := func(z *SecondZero) *SecondZero {
		if z == nil {
			return nil
		}
		m := *z
		m.X, m.Y = m.X.Add(sum.X), m.Y.Add(sum.Y)
		return &m
	}
	out.Second, out.NominalZero = move(a.Second), move(a.NominalZero)
	out.Facts = append(append([]Fact{}, a.Facts...), Fact{LevelNote, Corrected{n, sum.X, sum.Y}})
	return &out
}
