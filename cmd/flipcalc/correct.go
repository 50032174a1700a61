package main

import (
	"fmt"
	"io"
	"os"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

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
		return ask.Wrong("--landed", "nothing was measured", "DX,DY or DX,DY@X,Y", "the back's place minus the wanted one, back up as cut: right and away are plus")
	}
	pair := measured[0].Pair
	if pair > len(j.pairs) {
		return ask.Wrong(c.Where("landed"), fmt.Sprintf("a piece of pair %d", pair), fmt.Sprintf("one of the job's %d", len(j.pairs)), "")
	}
	if !j.pairs[pair-1].FaceTurn.IsZero() {
		return ask.No(c.Where("landed"), fmt.Sprintf("pair %d stands turned by 90 degrees, where right and away aren't the program's", pair), "measure a piece of a pair that isn't turned")
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
	l := report.LandedOf(a, measured, k, start, j.machine.G10, c.Given("output"))
	l.Offsets = j.layout != nil
	if c.Given("output") {
		if err := c.writeTurned(j, a, pair, k); err != nil {
			return err
		}
	}
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

// writeTurned writes the back programs of a job, turned as the measured turn asks: one to
// the file that -o names, several into that folder.
func (c *call) writeTurned(j *job, a *registration.Answer, pair int, k *landed.Correction) error {
	if k.Turn == nil || !k.Turn.Clear {
		return ask.No("-o", "no turn that the measurements show clearly", "measure at two places far apart; else the zero alone is the cure")
	}
	cure := k.Turn.Cures[len(k.Turn.Cures)-1]
	turned := *a
	turned.Second = cure.Zero
	turned.Turned(*cure.Program)
	w := &job{machine: j.machine, answer: &turned, pairs: slices.Clone(j.pairs)}
	w.pairs[pair-1] = &turned
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
	out := c.Text("output")
	switch len(w.files) {
	case 0:
		return ask.Wrong(c.Where("output"), "no back program to turn", "mirror or back in the job file", "or leave out -o")
	case 1:
		return c.writeFile(out, func(to io.Writer) error {
			_, err := to.Write(w.files[0].content)
			return err
		})
	}
	if out == "-" {
		return ask.Wrong("-o", "-, and several programs", "a folder", "")
	}
	if err := os.MkdirAll(out, 0o777); err != nil {
		return err
	}
	_, err := c.write(set{dir: out, files: w.files, loose: true})
	return err
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
