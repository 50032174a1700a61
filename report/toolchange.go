package report

import (
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/motion"
	"flipcalc/registration"
	"flipcalc/report/words"
)

// What Z that was touched off is good for: any tool whose length the program calls, or
// the one tool in the spindle. A program that changes to another one goes too deep, or
// not deep enough, by the difference in stick-out.

// spindle is what an offset's Z is touched off for.
type spindle struct {
	length bool // tools whose lengths are called
	tool   int  // else this one; -1 where programs name none
}

func spindleOf(st motion.Stint) spindle {
	if st.Length {
		return spindle{true, 0}
	}
	return spindle{false, st.Tool}
}

// serves reports whether Z that was touched off for q holds for p. Tools that no program
// names may be any.
func (p spindle) serves(q spindle) bool { return p == q && (p.length || p.tool >= 0) }

// named names the tool that is touched off.
func (p spindle) named() string {
	switch {
	case p.length:
		return words.LengthActive
	case p.tool < 0:
		return words.ToolInSpindle
	}
	return "T" + itoa(p.tool)
}

// toolChange is where a side's programs go on with a tool for which Z, as it was touched
// off, doesn't hold.
type toolChange struct {
	programs []*Program // alike, of one pair of stations each
	stint    motion.Stint
	from     spindle
	inside   bool // in the midst of the program; else before it
}

// names lists the programs.
func (t toolChange) names() string {
	var names []string
	for _, p := range t.programs {
		names = append(names, p.Name)
	}
	return list(names)
}

// many picks the word for one program or for several.
func (t toolChange) many(one, several string) string { return word(len(t.programs), one, several) }

// stopped reports whether the change is waited for: before a program, or at a stop.
func (t toolChange) stopped() bool { return !t.inside || t.stint.Stop > 0 }

// first is the tool for which the Z of a side's offsets is touched off: that with which
// its programs begin; nil where it isn't known.
func (s *Setup) first(back bool) *spindle {
	st := s.begins(back)
	if st == nil {
		return nil
	}
	first := spindleOf(*st)
	return &first
}

// begins is the stint with which a side's programs begin, nil where it isn't known.
func (s *Setup) begins(back bool) *motion.Stint {
	for i := range s.Programs {
		if p := &s.Programs[i]; p.cuts(back) && len(p.Stints) > 0 {
			return &p.Stints[0]
		}
	}
	return nil
}

// expected is the machine Z that is read where a side's Z is touched off: the back's only
// with the tool of the face or with lengths called, since another tool sticks out by
// another length. nil where it isn't known.
func (s *Setup) expected(back bool) *decimal.Decimal {
	if !back {
		return s.Reading[0]
	}
	if f, b := s.first(false), s.first(true); f != nil && b != nil && *f != *b {
		return nil
	}
	return s.Reading[1]
}

// stretch is what a side's programs cut with Z as it is touched off before them: each is
// tried and run before Z is touched off for the next.
type stretch struct {
	changes  []toolChange // in the midst of its programs, and before its first one
	programs []*Program
}

// has reports whether the stretch runs a program.
func (t stretch) has(p *Program) bool { return slices.Contains(t.programs, p) }

// add notes a change, with those that are alike at other offsets.
func (t *stretch) add(n toolChange) {
	p := n.programs[0]
	alike := func(o toolChange) bool {
		return o.stint == n.stint && o.from == n.from && o.inside == n.inside && o.programs[0].Offset != p.Offset
	}
	if i := slices.IndexFunc(t.changes, alike); i >= 0 {
		t.changes[i].programs = append(t.changes[i].programs, p)
	} else {
		t.changes = append(t.changes, n)
	}
}

// stretches gives those of one side, in the order in which they are run; there is one
// where Z is touched off once.
func (s *Setup) stretches(back bool) []stretch {
	out := make([]stretch, 1)
	holds := map[string]*spindle{} // by offset
	at := map[string]int{}         // which stretch its programs have come to
	begun := map[string]bool{}
	for i := range s.Programs {
		p := &s.Programs[i]
		if !p.cuts(back) {
			continue
		}
		if holds[p.Offset] == nil && back && s.Answer.Question.TouchOff == registration.TouchOffOnce {
			holds[p.Offset] = s.first(false) // the back's Z follows from the face's
		}
		for k, st := range p.Stints {
			now := spindleOf(st)
			if from := holds[p.Offset]; from != nil && *from != now {
				if k == 0 && begun[p.Offset] {
					at[p.Offset]++
					if at[p.Offset] == len(out) {
						out = append(out, stretch{})
					}
				}
				out[at[p.Offset]].add(toolChange{[]*Program{p}, st, *from, k > 0})
			}
			holds[p.Offset] = &now
		}
		begun[p.Offset] = true
		on := &out[at[p.Offset]]
		on.programs = append(on.programs, p)
	}
	return out
}

// toolChanges lists the changes of one side after which Z has to be touched off anew.
func (s *Setup) toolChanges(back bool) (out []toolChange) {
	for _, t := range s.stretches(back) {
		out = append(out, t.changes...)
	}
	return out
}

// unstopped words the changes that nothing stops for, "" if there are none.
func (s *Setup) unstopped() string {
	if s.Answer == nil {
		return ""
	}
	var out []string
	for _, back := range []bool{false, true} {
		for _, t := range s.toolChanges(back) {
			if !t.stopped() {
				out = append(out, fmt.Sprintf(words.ChangesAt, t.names(), t.many("changes", "change"), tool(t.stint.Tool), t.stint.Line))
			}
		}
	}
	return strings.Join(out, "; ")
}

func tool(n int) string {
	if n < 0 {
		return words.AnotherTool
	}
	return "T" + itoa(n)
}

// stopWords names the stop at which a tool change is waited for.
func (t toolChange) stopWords() string {
	if t.stint.Optional {
		return fmt.Sprintf(words.OptionalAt, t.stint.Stop)
	}
	return fmt.Sprintf(words.StopAt, t.stint.Stop)
}

// touched says with what, and where, Z is touched off anew.
func (c *checklist) touched(t toolChange, back bool) string {
	q := c.s.Answer.Question
	on := words.OnUncut
	switch {
	case q.ZLevel(back) == registration.Bed:
		on = words.OnSeating
	case !back && q.Skimmed.IsPositive():
		on = fmt.Sprintf(words.OnUnskimmed, q.Skimmed)
	}
	return fmt.Sprintf(words.MadeAnew, t.many(t.programs[0].Offset, words.EachOffset), t.with(), on)
}

// with names the tool that Z is touched off with anew.
func (t toolChange) with() string {
	if t.stint.Length {
		return fmt.Sprintf(words.ToolLength, tool(t.stint.Tool))
	}
	return spindleOf(t.stint).named()
}

// tryOut dry runs a side's programs, said by what: each stretch of them with Z touched off
// for it.
func (c *checklist) tryOut(phase, what string, back bool, thick decimal.Decimal) {
	all := c.s.stretches(back)
	for i, t := range all {
		c.changeSteps(phase, back, t.changes)
		pass := func(p *Program) bool { return p.cuts(back) && (len(all) == 1 || t.has(p)) }
		st := c.dryRun(phase, fmt.Sprintf(what, c.named(pass)), c.offsets(back), thick, pass, "path")
		if st.Also = back && !c.resumed(); i > 0 || len(c.dangerCodes(back)) > 0 {
			st.Brief = ""
		}
	}
}

// changeSteps are the steps that tool changes of one side call for, before their dry run.
func (c *checklist) changeSteps(phase string, back bool, changes []toolChange) {
	for _, t := range changes {
		name, to, why := t.names(), tool(t.stint.Tool), words.LengthUncall
		if t.stint.Length {
			why = words.LengthCalled
		}
		switch {
		case !t.inside:
			holds := t.from.named()
			if t.from.length {
				holds = words.AllLengths
			}
			c.step(phase, "lengths").say(words.BeforeProgram, name, c.touched(t, back), holds).also("the same with %s before %s", tool(t.stint.Tool), name)
		case t.stint.Stop == 0:
			st := c.step(phase, "tool-change").say(words.DontRun, name, t.many("it is", "they are"), t.stint.Line, to, why)
			if !back || c.resumed() { // else its run says so
				st.brief("stop here: mend %s, see the warning", name)
			}
		default:
			st := c.step(phase, "check-zero").say(words.OtherTool, t.stint.Line, name, t.many("changes", "change"), to, why).
				say(words.AtTheStop, t.stopWords(), c.touched(t, back)).say(words.NoZAtStop).also("anew with %s at the stop, line %d of %s", to, t.stint.Stop, name)
			if f := c.s.first(back); f != nil && f.tool >= 0 && !f.length {
				st.say(words.NextBlank, f.tool)
			}
		}
	}
}

// andChanges reminds, behind a side's programs, of what its tool changes call for; "" where
// they call for nothing. Where Z was tried out it is left touched off for the last tool.
func (c *checklist) andChanges(back, tried bool) string {
	var out []string
	if again := c.anew(back); tried && len(again) > 0 {
		first := toolChange{programs: again}
		out = append(out, fmt.Sprintf(words.AnewBefore, c.s.first(back).named(), first.names()))
	}
	for _, t := range c.s.toolChanges(back) {
		switch {
		case !t.inside:
			out = append(out, fmt.Sprintf(words.AnewBefore, t.with(), t.names()))
		case t.stint.Stop == 0:
			out = append(out, fmt.Sprintf(words.SettleFirst, tool(t.stint.Tool), t.names()))
		default:
			out = append(out, fmt.Sprintf(words.AnewAtStop, t.with(), t.stint.Stop, t.names()))
		}
	}
	if len(out) == 0 {
		return ""
	}
	return ": " + strings.Join(out, "; ")
}

// anew gives the programs before which Z is touched off anew where the side was run before:
// none where it isn't to be run.
func (c *checklist) anew(back bool) []*Program {
	if len(c.dangerCodes(back)) > 0 {
		return nil
	}
	return c.s.endOtherwise(back)
}

// endOtherwise gives the first program of each offset of a side whose programs leave Z
// touched off for another tool than the one with which they begin.
func (s *Setup) endOtherwise(back bool) (begin []*Program) {
	first, ends := s.first(back), map[string]spindle{}
	for i := range s.Programs {
		p := &s.Programs[i]
		if !p.cuts(back) || len(p.Stints) == 0 {
			continue
		}
		if _, begun := ends[p.Offset]; !begun {
			begin = append(begin, p)
		}
		ends[p.Offset] = spindleOf(p.Stints[len(p.Stints)-1])
	}
	return slices.DeleteFunc(begin, func(p *Program) bool { return ends[p.Offset] == *first })
}

// dangerCodes are the cautions of a step that runs a side's programs.
func (c *checklist) dangerCodes(back bool) []string {
	if slices.ContainsFunc(c.s.toolChanges(back), func(t toolChange) bool { return !t.stopped() }) {
		return []string{"tool-change"}
	}
	return nil
}
