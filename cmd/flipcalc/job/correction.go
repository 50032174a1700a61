package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/registration"
	"flipcalc/registration/landed"
	"flipcalc/report"
)

// start gives the answer of a pair with the second zero that its piece was cut with, and
// how that is known.
func (c *Task) start(a *registration.Answer, pair int) (*registration.Answer, report.Start, error) {
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
	s := report.Start{From: "computed"}
	had := 0
	for _, k := range rounds {
		if k.Pair == pair {
			had++
		}
	}
	switch {
	case had == 1:
		s.From = "computed, with the job's correction"
	case had > 1:
		s.From = fmt.Sprintf("computed, with the job's %d corrections", had)
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
		s.Keep = func(by registration.Point, turn decimal.Decimal) string {
			// From what is in the job to the zero that comes out.
			sum := registration.Point{X: a.Second.X.Add(by.X).Sub(at.X), Y: a.Second.Y.Add(by.Y).Sub(at.Y)}
			list := slices.Clone(rounds)
			if !sum.X.IsZero() || !sum.Y.IsZero() || !turn.IsZero() {
				list = append(list, registration.Correction{Pair: pair, Shift: sum, Turn: turn})
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
func (c *Task) corrections() (list []registration.Correction, err error) {
	r := c.NewReader()
	ask.Every(r, "corrections", ask.In(r, registration.ParseCorrection), &list)
	return list, r.Err
}

// correct moves the second zeros of a job's pairs, in its answers and on the bed, by the
// corrections that it keeps.
func (c *Task) correct(j *Job) error {
	rounds, err := c.corrections()
	if err != nil {
		return err
	}
	pairs := len(j.Pairs)
	if j.Layout != nil {
		pairs = j.Layout.Pairs
	}
	for _, k := range rounds {
		switch {
		case k.Pair > pairs:
			return ask.Wrong(c.Where("corrections"), fmt.Sprintf("%s: pair %d", k, k.Pair), fmt.Sprintf("one of the job's %d", pairs), "")
		case j.Answer.Second == nil:
			return ask.Wrong(c.Where("corrections"), k.String()+", and no register that gives a second zero", "register as well", "")
		}
		if l := j.Layout; l != nil {
			z := &l.Stations[2*k.Pair-1].Zero
			z.X, z.Y = z.X.Add(k.Shift.X), z.Y.Add(k.Shift.Y)
		}
	}
	for i, a := range j.Pairs {
		j.Pairs[i] = a.Corrected(i+1, rounds)
	}
	if len(j.Pairs) > 0 {
		j.Answer = j.Pairs[0]
	}
	return nil
}

// Correct turns what was measured into a corrected second zero, and writes the back
// programs turned where files are asked for.
func (c *Task) Correct() (*Job, error) {
	j, err := c.answers()
	if err != nil {
		return nil, err
	}
	r := c.NewReader()
	var measured []landed.Measurement
	ask.Every(r, "landed", ask.In(r, landed.Parse), &measured)
	var o landed.Options
	ask.Read(r, "measuring", r.Length, &o.Measuring)
	if r.Err != nil {
		return nil, r.Err
	}
	if len(measured) == 0 {
		return nil, ask.Wrong("--landed", "nothing was measured", "DX,DY or DX,DY@X,Y", "the back's place minus the wanted one, back up as cut: right and away are plus")
	}
	pair := measured[0].Pair
	if pair > len(j.Pairs) {
		return nil, ask.Wrong(c.Where("landed"), fmt.Sprintf("a piece of pair %d", pair), fmt.Sprintf("one of the job's %d", len(j.Pairs)), "")
	}
	a, start, err := c.start(j.Pairs[pair-1], pair)
	if err != nil {
		return nil, err
	}
	if a.Second != nil {
		b, err := c.budgetResult(a)
		if err != nil {
			return nil, err
		}
		o.Worst = b.Worst
	}
	k, err := landed.Correct(a, measured, o)
	if err != nil {
		return nil, err
	}
	l := report.LandedOf(a, measured, k, start, j.Machine.G10, c.Given("output"))
	l.Offsets = j.Layout != nil
	if c.Given("output") {
		if err := c.turnBacks(j, a, pair, k); err != nil {
			return nil, err
		}
	}
	if len(j.Pairs) > 1 && a.Second != nil {
		l.Notes = append(l.Notes, report.Note{Code: "pair-1", Level: "note",
			Text: fmt.Sprintf("this corrects %s, the back of pair %d, alone: measure a piece of each other pair and give its number, as in --landed 2:0.1,0", a.Second.Offset, pair)})
	}
	j.Setup = report.Setup{Unit: a.Question.Unit, Landed: l}
	return j, nil
}

// turnBacks adds the back programs of a job, turned as the measured turn asks.
func (c *Task) turnBacks(j *Job, a *registration.Answer, pair int, k *landed.Correction) error {
	if k.Turn == nil || !k.Turn.Clear {
		return ask.No("-o", "no turn that the measurements show clearly", "measure at two places far apart; else the zero alone is the cure")
	}
	cure := k.Turn.Cures[len(k.Turn.Cures)-1]
	turned := *a
	turned.Second = cure.Zero
	turned.Turned(*cure.Program)
	w := &Job{Machine: j.Machine, Answer: &turned, Pairs: slices.Clone(j.Pairs)}
	w.Pairs[pair-1] = &turned
	for _, side := range c.sides() {
		for _, path := range c.Texts(side.flag) {
			if side.flag == "face" {
				continue
			}
			if err := c.addProgram(w, pair-1, path, outName(path, side.flag), side.role); err != nil {
				return err
			}
		}
	}
	j.Files = w.Files
	return nil
}
