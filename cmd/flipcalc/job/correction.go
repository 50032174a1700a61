package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror/fact"
	"flipcalc/registration"
	"flipcalc/registration/landed"
	"flipcalc/report"
	"flipcalc/report/words"
)

// beginning gives the answer of a pair with the second zero that its piece was cut with, and
// how that is known.
func (j *Job) beginning(pair int) (*registration.Answer, report.Start, error) {
	a, rounds := j.Pairs[pair-1], j.corrections()
	from := ask.Optional[registration.Position](j.Ask, "from")
	switch {
	case a.Second == nil && from != nil:
		return nil, report.Start{}, ask.Wrong(j.Where("from"), "a second zero, and no register that gives one", "register as well", "")
	case a.Second == nil:
		return a, report.Start{}, nil
	}
	s := report.Start{From: "computed"}
	had := len(slices.DeleteFunc(slices.Clone(rounds), func(k registration.Correction) bool { return k.Pair != pair }))
	switch {
	case had == 1:
		s.From = "computed, with the job's correction"
	case had > 1:
		s.From = fmt.Sprintf("computed, with the job's %d corrections", had)
	}
	at := a.Second
	if from != nil {
		moved, z := *a, *a.Second
		z.X, z.Y = from.X, from.Y
		if from.Z != nil {
			z.Z = from.Z
		}
		moved.Second = &z
		a, s.From = &moved, j.Spelt("as ‹from› says")
	}
	if j.JobFile != "" {
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

// corrections are the rounds that the job keeps.
func (j *Job) corrections() []registration.Correction {
	return ask.Values[registration.Correction](j.Ask, "corrections")
}

// correct moves the second zeros of a job's pairs, in its answers and on the bed, by the
// corrections that it keeps.
func (j *Job) correct() error {
	pairs, rounds := len(j.Pairs), j.corrections()
	if j.Layout != nil {
		pairs = j.Layout.Pairs
	}
	for _, k := range rounds {
		switch {
		case k.Pair > pairs:
			return ask.Wrong(j.Where("corrections"), fmt.Sprintf("%s: pair %d", k, k.Pair), fmt.Sprintf("one of the job's %d", pairs), "")
		case j.Answer.Second == nil:
			return ask.Wrong(j.Where("corrections"), k.String()+", and no register that gives a second zero", "register as well", "")
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
func (j *Job) Correct() error {
	if err := j.find(); err != nil {
		return err
	}
	measured := ask.Values[landed.Measurement](j.Ask, "landed")
	if len(measured) == 0 {
		return ask.Wrong("landed", "nothing was measured", "DX,DY or DX,DY@X,Y", "the back's place minus the wanted one, back up as cut: right and away are plus")
	}
	pair := measured[0].Pair
	if pair > len(j.Pairs) {
		return ask.Wrong(j.Where("landed"), fmt.Sprintf("a piece of pair %d", pair), fmt.Sprintf("one of the job's %d", len(j.Pairs)), "")
	}
	a, start, err := j.beginning(pair)
	if err != nil {
		return err
	}
	o := landed.Options{Measuring: ask.Said[decimal.Decimal](j.Ask, "measuring")}
	if a.Second != nil {
		b, err := j.budget(a)
		if err != nil {
			return err
		}
		o.Worst = b.Worst
	}
	k, err := landed.Correct(a, measured, o)
	if err != nil {
		return err
	}
	l := report.LandedOf(a, measured, k, start, j.Machine.G10, j.Given("output"))
	l.Offsets = j.Layout != nil
	if j.Given("output") {
		if err := j.turnBacks(a, pair, k); err != nil {
			return err
		}
	}
	if len(j.Pairs) > 1 && a.Second != nil {
		l.Notes = append(l.Notes, report.Note{Level: fact.Note, Is: words.PairAlone{Offset: a.Second.Offset, Pair: pair, As: j.Spelt("‹landed 2:0.1,0›")}})
	}
	j.Setup = report.Setup{Unit: a.Question.Unit, Landed: l}
	return nil
}

// turnBacks adds the back programs of a job, turned as the measured turn asks.
func (j *Job) turnBacks(a *registration.Answer, pair int, k *landed.Correction) error {
	if k.Turn == nil || !k.Turn.Clear {
		return ask.No("-o", "no turn that the measurements show clearly", "measure at two places far apart; else the zero alone is the cure")
	}
	cure := k.Turn.Cures[len(k.Turn.Cures)-1]
	turned := *a
	turned.Second = cure.Zero
	turned.Turned(*cure.Program)
	w := *j
	w.Files, w.Pairs = nil, slices.Clone(j.Pairs)
	w.Pairs[pair-1] = &turned
	for _, side := range j.sides()[1:] {
		for _, path := range j.Texts(side.flag) {
			if err := w.addProgram(pair-1, path, outName(path, side.flag), side.role); err != nil {
				return err
			}
		}
	}
	j.Files = w.Files
	return nil
}
