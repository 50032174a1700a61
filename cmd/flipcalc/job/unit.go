package job

import (
	"slices"

	"github.com/shopspring/decimal"

	"flipcalc/mirror"
	"flipcalc/mirror/fact"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/report"
	"flipcalc/report/words"
)

// unitNotes says of a program whether it is in another unit than the job, which is
// lawful and more often a mistake, with its extents in both; and, where told is false,
// whether it names no unit at all. One that names none and stays within a twentieth of the
// blank is likely in the other unit, whatever was told: read as mm, an inch program is
// 25.4 times too small.
func unitNotes(name string, s *motion.Summary, a *registration.Answer, told bool) (out []report.Note) {
	job := a.Question.Unit
	other := transform.Inch
	if job == transform.Inch {
		other = transform.MM
	}
	if s.Units[other] {
		over := s.Cut
		if !over[0].Any {
			over = s.All
		}
		out = append(out, report.Note{Level: fact.Warning, File: name, Is: words.OtherUnit{Unit: other, Job: job, Partly: s.Units[job], Over: over}})
	}
	for _, code := range s.Assumed {
		switch {
		case code != "G20" && code != "G21":
		case tiny(s, a):
			out = append(out, report.Note{Level: fact.Warning, File: name, Is: words.UnitDoubtful{Job: job}})
		case !told:
			out = append(out, report.Note{Level: mirror.UnsaidUnit(job), File: name, Is: words.UnitAssumed{Job: job}})
		}
	}
	return out
}

// settingNotes says which cuts of a program have a doubtful tool, feed, spindle, length or
// radius; each is lawful on some machines. Numbers that keep their difference from the tool's all
// through a job, as T1 with H51, are asked for once. lines are those of the maker's file. A program
// that names no tool is cut here with the first of those listed; one whose cuts all stay over the
// blank's top was written for another Z0.
func (j *Job) settingNotes(name string, s *motion.Summary, top *decimal.Decimal, lines func(int) int) (out []report.Note) {
	if z := s.Cut[2]; z.Any && top != nil && z.Min >= transform.InMM(*top, j.Unit()).InexactFloat64() {
		out = append(out, report.Note{Level: fact.Warning, File: name, Is: words.CutsNothing{}})
	}
	if tools := j.tools(); len(tools) > 1 {
		if i := slices.IndexFunc(s.Tools, func(t motion.ToolUse) bool { return t.Number < 0 }); i >= 0 {
			out = append(out, report.Note{Level: fact.Warning, File: name, Line: lines(s.Tools[i].Line), Is: words.ToolAssumed{Tool: tools[0].Number}})
		}
	}
	for _, n := range []struct {
		line int
		is   any
	}{
		{s.Unturned, words.Unturned{}}, {s.Reversed, words.Reversed{}}, {s.Unfed, words.Unfed{}},
		{j.firstOf('H', s.OtherLength), words.OtherLength(s.OtherLength)}, {j.firstOf('D', s.OtherRadius), words.OtherRadius(s.OtherRadius)},
	} {
		if n.line > 0 {
			out = append(out, report.Note{Level: fact.Warning, File: name, Line: lines(n.line), Is: n.is})
		}
	}
	return out
}

// firstOf gives the line of a number that isn't its tool's; 0 where none of that letter is, or one
// with that difference was told before.
func (j *Job) firstOf(letter int, n motion.Number) int {
	by := [2]int{letter, n.Number - n.Tool}
	if n.Line == 0 || j.numbers[by] {
		return 0
	}
	j.numbers[by] = true
	return n.Line
}

// tiny says that a program's moves stay, in X and in Y, within a twentieth of the blank
// from its zero.
func tiny(s *motion.Summary, a *registration.Answer) bool {
	for i, size := range []decimal.Decimal{a.Used.W, a.Used.H} {
		mm, _ := transform.Convert(size, a.Question.Unit, transform.MM, 6)
		e := s.All[i]
		if !e.Any || 20*max(-e.Min, e.Max) > mm.InexactFloat64() {
			return false
		}
	}
	return true
}
