package registration

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
)

// Correction is one round's shift of a pair's second zero after a test cut, by its X and
// Y, in the question's unit, and the turn of its back programs about that zero.
type Correction struct {
	Pair  int // from 1
	Shift Point
	Turn  decimal.Decimal // degrees, counter-clockwise
}

const turnWord = " turned "

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

// ParseCorrection reads [PAIR:]DX,DY[ turned DEGREES].
func ParseCorrection(s string, u transform.Unit) (Correction, error) {
	pair, rest, err := CutPair(s)
	if err != nil {
		return Correction{}, err
	}
	rest, turn, turned := strings.Cut(rest, turnWord)
	p, err := ParsePoint(rest, u)
	if err != nil {
		return Correction{}, &Error{Found: fmt.Sprintf("%q", short(s)), Expected: "DX,DY or PAIR:DX,DY, such as -0.12,0.05"}
	}
	c := Correction{Pair: pair, Shift: p}
	if turned {
		if c.Turn, err = decimal.NewFromString(strings.TrimSpace(turn)); err != nil || c.Turn.Abs().GreaterThan(decimal.New(180, 0)) || c.Turn.Exponent() < -9 {
			return Correction{}, &Error{Found: fmt.Sprintf("%q", short(s)), Expected: "DX,DY turned DEGREES, such as -0.12,0.05 turned -0.1"}
		}
	}
	return c, nil
}

// String writes what ParseCorrection reads.
func (c Correction) String() string {
	s := c.Shift.X.String() + "," + c.Shift.Y.String()
	if c.Pair != 1 {
		s = strconv.Itoa(c.Pair) + ":" + s
	}
	if !c.Turn.IsZero() {
		s += turnWord + c.Turn.String()
	}
	return s
}

// Corrected gives the answer for one pair with its second zero moved by the sum of the
// rounds of that pair, and its back programs turned; the same answer where there are none.
func (a *Answer) Corrected(pair int, rounds []Correction) *Answer {
	var sum Point
	var turn decimal.Decimal
	n := 0
	for _, r := range rounds {
		if r.Pair == pair {
			sum, turn, n = sum.Add(r.Shift), turn.Add(r.Turn), n+1
		}
	}
	if n == 0 || a.Second == nil {
		return a
	}
	out := *a
	out.Second, out.NominalZero = a.Second.Moved(sum.Add), a.NominalZero.Moved(sum.Add)
	out.Turned(turn)
	if a.own != nil {
		own := slices.Clone(rounds)
		for i := range own {
			own[i].Shift = a.FaceTurn.Back().Point(own[i].Shift)
		}
		out.own = a.own.Corrected(pair, own)
	}
	is := Fact{LevelNote, Corrected{Rounds: n, X: sum.X, Y: sum.Y, Turn: turn}}
	if limit := a.Plausible(); sum.Dot(sum).GreaterThan(limit.Mul(limit)) {
		is = Fact{LevelWarning, Corrected{n, sum.X, sum.Y, turn, limit}}
	}
	out.Facts = append(slices.Clip(a.Facts), is)
	return &out
}

// Plausible is, without a budget, the farthest that the back of a blank seated and turned as
// meant can lie off: 5 mm or 0.2 in, or a quarter of the blank's smaller side where that is less (common
// practice: locators err by tenths, a wrong flip, sign or edge by a size of the part).
func (a *Answer) Plausible() decimal.Decimal {
	limit := decimal.New(5, 0)
	if a.Question.Unit == transform.Inch {
		limit = decimal.New(2, -1)
	}
	if side := decimal.Min(a.Used.W, a.Used.H); side.IsPositive() {
		limit = decimal.Min(limit, side.Mul(decimal.New(25, -2)))
	}
	return limit
}

// Turned turns the back programs about the second zero by degrees, counter-clockwise.
func (a *Answer) Turned(degrees decimal.Decimal) {
	a.BackTurn = a.BackTurn.Add(degrees)
	a.Transform = a.Transform.Turned(degrees)
}
