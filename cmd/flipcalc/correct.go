package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/registration"
	"flipcalc/registration/landed"
	"flipcalc/report"
)

func runCorrect(c *call) error {
	j, err := c.answers()
	if err != nil {
		return err
	}
	r := c.NewReader()
	var measured []landed.Measurement
	ask.Every(r, "landed", ask.In(r, landed.Parse), &measured)
	var o landed.Options
	ask.Read(r, "measuring", r.Length, &o.Measuring)
	if r.Err != nil {
		return r.Err
	}
	if len(measured) == 0 {
		return ask.Wrong("--landed", "nothing was measured", "DX,DY or DX,DY@X,Y", "looking at the back as it lay on the machine: where it lies minus where it should, X to the right, Y away")
	}
	pair := measured[0].Pair
	if pair > len(j.pairs) {
		return ask.Wrong(c.Where("landed"), fmt.Sprintf("a piece of pair %d", pair), fmt.Sprintf("one of the job's %d", len(j.pairs)), "")
	}
	a, start, err := c.start(j.pairs[pair-1], pair)
	if err != nil {
		return err
	}
	if a.Second != nil {
		b, err := c.budgetResult(a)
		if err != nil {
			return err
		}
		o.Worst = b.Worst
	}
	k, err := landed.Correct(a, measured, o)
	if err != nil {
		return err
	}
	l := report.LandedOf(a, measured, k, start, j.machine.G10)
	if len(j.pairs) > 1 && a.Second != nil {
		l.Notes = append(l.Notes, report.Note{Code: "pair-1", Level: "note",
			Text: fmt.Sprintf("this corrects %s, the back of pair %d, alone: measure a piece of each other pair and give its number, as in --landed 2:0.1,0", a.Second.Offset, pair)})
	}
	if c.On("json") {
		return report.CorrectJSON(c.out, *l, a.Question.Unit)
	}
	s := report.Setup{Unit: a.Question.Unit, Landed: l}
	if c.On("quiet") {
		return c.quietly(s, report.CorrectedLine(l, s.Unit)+"\n")
	}
	return report.Terminal(c.out, s, c.terminal())
}

// start gives the answer of a pair with the second zero that its piece was cut with, and
// how that is known.
func (c *call) start(a *registration.Answer, pair int) (*registration.Answer, report.Start, error) {
	r := c.NewReader()
	rounds, err := c.corrections()
	if err != nil {
		return nil, report.Start{}, err
	}
	var from registration.Position
	given := ask.Read(r, "from", ask.In(r, registration.ParsePosition), &from)
	if r.Err != nil || a.Second == nil {
		if given && r.Err == nil {
			r.Err = ask.Wrong(c.Where("from"), "a second zero, and no register that gives one", "register as well", "")
		}
		return a, report.Start{}, r.Err
	}
	s := report.Start{From: "reckoned"}
	had := 0
	for _, k := range rounds {
		if k.Pair == pair {
			had++
		}
	}
	switch {
	case had == 1:
		s.From = "reckoned, with the job's correction"
	case had > 1:
		s.From = fmt.Sprintf("reckoned, with the job's %d corrections", had)
	}
	at := a.Second
	if given {
		moved := *a
		z := *a.Second
		z.X, z.Y = from.X, from.Y
		if from.Z != nil {
			z.Z = from.Z
		}
		moved.Second = &z
		a, s.From = &moved, "as --from says"
	}
	if c.JobFile != "" {
		s.Keep = func(by registration.Point) string {
			// From what is in the job to the zero that comes out.
			sum := registration.Point{X: a.Second.X.Add(by.X).Sub(at.X), Y: a.Second.Y.Add(by.Y).Sub(at.Y)}
			list := slices.Clone(rounds)
			if !sum.X.IsZero() || !sum.Y.IsZero() {
				list = append(list, registration.Correction{Pair: pair, Shift: sum})
			}
			if len(list) == 0 {
				return ""
			}
			var words []string
			for _, k := range list {
				words = append(words, strconv.Quote(k.String()))
			}
			return "corrections = [" + strings.Join(words, ", ") + "]"
		}
	}
	return a, s, nil
}

// corrections reads the rounds that the job keeps.
func (c *call) corrections() (list []registration.Correction, err error) {
	r := c.NewReader()
	ask.Every(r, "corrections", ask.In(r, registration.ParseCorrection), &list)
	return list, r.Err
}

// correct moves the second zeros of a job's pairs, in its answers and on the bed, by the
// corrections that it keeps.
func (c *call) correct(j *job) error {
	rounds, err := c.corrections()
	if err != nil {
		return err
	}
	pairs := len(j.pairs)
	if j.layout != nil {
		pairs = j.layout.Pairs
	}
	for _, k := range rounds {
		switch {
		case k.Pair > pairs:
			return ask.Wrong(c.Where("corrections"), fmt.Sprintf("%s: pair %d", k, k.Pair), fmt.Sprintf("one of the job's %d", pairs), "")
		case j.answer.Second == nil:
			return ask.Wrong(c.Where("corrections"), k.String()+", and no register that gives a second zero", "register as well", "")
		}
		if l := j.layout; l != nil {
			z := &l.Stations[2*k.Pair-1].Zero
			z.X, z.Y = z.X.Add(k.Shift.X), z.Y.Add(k.Shift.Y)
		}
	}
	for i, a := range j.pairs {
		j.pairs[i] = a.Corrected(i+1, rounds)
	}
	if len(j.pairs) > 0 {
		j.answer = j.pairs[0]
	}
	return nil
}
