package main

import (
	"flipcalc/registration/landed"
	"flipcalc/report"
)

var correctVerb = &verb{
	name: "correct", does: "turns a measured mismatch into a corrected second zero",
	run: runCorrect,
	examples: []example{
		{"the back lies 0.12 to the right and 0.05 too near, looking at the back", "flipcalc correct --job job.toml --landed 0.12,-0.05"},
		{"measured at two places, so that a turn shows", "flipcalc correct --job job.toml --landed 0.10,0.02@20,40 --landed 0.10,0.16@100,40"},
		{"without a job file", "flipcalc correct --stock 140x90x19 --flip y --register fence --fence near --stop left --back-stop right --at 50,60 --landed 0.2,0"},
	},
}

func runCorrect(c *call) error {
	_, a, err := c.answer()
	if err != nil {
		return err
	}
	r := c.newReader()
	var measured []landed.Measurement
	every(r, "landed", in(r, landed.Parse), &measured)
	var o landed.Options
	read(r, "measuring", r.length, &o.Measuring)
	read(r, "contacts", r.length, &o.Contacts)
	if r.err != nil {
		return r.err
	}
	if len(measured) == 0 {
		return wrong("--landed", "nothing was measured", "DX,DY or DX,DY@X,Y", "looking at the back as it lay on the machine: where it lies minus where it should, X to the right, Y away")
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
	m, err := c.machine()
	if err != nil {
		return err
	}
	l := report.LandedOf(a, measured, k, m.G10)
	if c.given("pairs") && c.text("pairs") != "1" && a.Second != nil {
		l.Notes = append(l.Notes, report.Note{Code: "pair-1", Level: "note",
			Text: "this corrects " + a.Second.Offset + ", the back of pair 1, alone: measure a part of each other pair, and move its own back offset by the opposite of its own mismatch"})
	}
	if c.on("json") {
		return report.CorrectJSON(c.out, *l, a.Question.Unit)
	}
	s := report.Setup{Unit: a.Question.Unit, Landed: l}
	if c.on("quiet") {
		return c.quietly(s, report.CorrectedLine(l, s.Unit)+"\n")
	}
	return report.Terminal(c.out, s, c.terminal())
}
