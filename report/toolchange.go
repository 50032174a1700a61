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
	for i := range s.Programs {
		if p := &s.Programs[i]; p.cuts(back) && len(p.Stints) > 0 {
			first := spindleOf(p.Stints[0])
			return &first
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

// toolChanges lists the changes of one side after which Z has to be touched off anew.
func (s *Setup) toolChanges(back bool) (out []toolChange) {
	holds := map[string]*spindle{} // by offset
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
				t := toolChange{[]*Program{p}, st, *from, k > 0}
				alike := func(o toolChange) bool {
					return o.stint == t.stint && o.from == t.from && o.inside == t.inside && o.programs[0].Offset != p.Offset
				}
				if i := slices.IndexFunc(out, alike); i >= 0 {
					out[i].programs = append(out[i].programs, p)
				} else {
					out = append(out, t)
				}
			}
			holds[p.Offset] = &now
		}
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
	switch z := q.ZZero; {
	case back && q.BackZZero == registration.Bed, !back && z == registration.Bed:
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

// changeSteps are the steps that a side's tool changes call for, before its dry run.
func (c *checklist) changeSteps(phase string, back bool) {
	for _, t := range c.s.toolChanges(back) {
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
			c.step(phase, "lengths").say(words.BeforeProgram, name, c.touched(t, back), holds)
		case t.stint.Stop == 0:
			c.step(phase, "tool-change").say(words.DontRun, name, t.many("it is", "they are"), t.stint.Line, to, why)
		default:
			st := c.step(phase, "check-zero").say(words.OtherTool, t.stint.Line, name, t.many("changes", "change"), to, why).
				say(words.AtTheStop, t.stopWords(), c.touched(t, back)).say(words.NoZAtStop)
			if f := c.s.first(back); f != nil && f.tool >= 0 && !f.length {
				st.say(words.NextBlank, f.tool)
			}
		}
	}
}

// andChanges reminds, behind a side's programs, of what its tool changes call for; "" where
// they call for nothing.
func (c *checklist) andChanges(back bool) string {
	var out []string
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

// endsOtherwise reports whether a side's programs leave Z touched off for another tool
// than the one with which they begin on the next blank.
func (s *Setup) endsOtherwise(back bool) bool {
	first, ends := s.first(back), map[string]spindle{}
	for i := range s.Programs {
		if p := &s.Programs[i]; p.cuts(back) && len(p.Stints) > 0 {
			ends[p.Offset] = spindleOf(p.Stints[len(p.Stints)-1])
		}
	}
	for _, end := range ends {
		if end != *first {
			return true
		}
	}
	return false
}

// dangerCodes are the cautions of a step that runs a side's programs.
func (c *checklist) dangerCodes(back bool) []string {
	if slices.ContainsFunc(c.s.toolChanges(back), func(t toolChange) bool { return !t.stopped() }) {
		return []string{"tool-change"}
	}
	return nil
}
