package report

import (
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/motion"
	"flipcalc/registration"
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
		return "G43 active"
	case p.tool < 0:
		return "the tool in the spindle"
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
				out = append(out, t.names()+t.many(" changes to ", " change to ")+tool(t.stint.Tool)+" at line "+itoa(t.stint.Line))
			}
		}
	}
	return strings.Join(out, "; ")
}

func tool(n int) string {
	if n < 0 {
		return "another tool"
	}
	return "T" + itoa(n)
}

// stopWords names the stop at which a tool change is waited for.
func (t toolChange) stopWords() string {
	if t.stint.Optional {
		return "line " + itoa(t.stint.Stop) + " (M1: switch the optional stop on)"
	}
	return "line " + itoa(t.stint.Stop) + " (M0)"
}

// touched says with what, and where, Z is touched off anew.
func (c *checklist) touched(t toolChange, back bool) string {
	q := c.s.Answer.Question
	now := spindleOf(t.stint)
	with := " with " + now.named()
	if now.length {
		with = " with " + tool(t.stint.Tool) + ", G43 active"
	}
	text := "touch off " + t.many(t.programs[0].Offset, "each one's offset") + " in Z anew" + with
	switch z := q.ZZero; {
	case back && q.BackZZero == registration.Bed, !back && z == registration.Bed:
		return text + ", on the seating plane beside the blank"
	case !back && q.Skimmed.IsPositive():
		return text + ", on the unskimmed top; on the skimmed one Z reads -" + q.Skimmed.String() + " and the feeler"
	}
	return text + ", on uncut top"
}

// changeSteps are the steps that a side's tool changes call for, before its dry run.
func (c *checklist) changeSteps(phase string, back bool) {
	for _, t := range c.s.toolChanges(back) {
		name, to := t.names(), tool(t.stint.Tool)
		line := " at line " + itoa(t.stint.Line)
		switch {
		case !t.inside:
			c.add(phase, "Before "+name+": "+c.touched(t, back)+". Z is for "+t.holds()+" so far.", "lengths")
		case t.stint.Stop == 0:
			c.add(phase, "Don't run "+name+" as "+t.many("it is:", "they are:")+line+" Z is wrong for "+to+". "+capital(t.why())+", and no stop (M0) follows. "+
				"Call every tool's length (G43 H after M6), or put M0 after the change. Or make one program of each tool; then prepare anew.", "tool-change")
		default:
			again := ""
			if f := c.s.first(back); f != nil && f.tool >= 0 && !f.length {
				again = " On the next blank touch off with T" + itoa(f.tool) + " first."
			}
			c.add(phase, "At line "+itoa(t.stint.Line)+" "+name+t.many(" changes to ", " change to ")+to+", for which Z is wrong. "+capital(t.why())+". At the stop, "+t.stopWords()+", "+c.touched(t, back)+
				". Raise the tool, then start again. In the dry run raise Z again by as much. If the control takes no new Z at a stop, make one program of each tool."+again, "check-zero")
		}
	}
}

// why says why Z doesn't hold.
func (t toolChange) why() string {
	if t.stint.Length {
		return "it was touched off without the length that is called"
	}
	return "its length isn't called (G43 H)"
}

// holds names the tool for which Z was touched off before.
func (t toolChange) holds() string {
	if t.from.length {
		return "tools with G43"
	}
	return t.from.named()
}

// changeClause reminds, where a side's programs are run, of what its tool changes call
// for; "" where they call for nothing.
func (c *checklist) changeClause(back bool) string {
	var out []string
	for _, t := range c.s.toolChanges(back) {
		with := spindleOf(t.stint).named()
		if t.stint.Length {
			with = tool(t.stint.Tool) + "'s length active"
		}
		switch {
		case !t.inside:
			out = append(out, "Z anew with "+with+" before "+t.names())
		case t.stint.Stop == 0:
			out = append(out, "settle the change to "+tool(t.stint.Tool)+" in "+t.names()+" first")
		default:
			out = append(out, "Z anew with "+with+" at the stop, line "+itoa(t.stint.Stop)+" of "+t.names())
		}
	}
	return strings.Join(out, "; ")
}

// andChanges puts the clause on a side's tool changes behind its programs.
func (c *checklist) andChanges(back bool) string {
	if clause := c.changeClause(back); clause != "" {
		return ": " + clause
	}
	return ""
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
