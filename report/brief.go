package report

import (
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/report/words"
)

// What a terminal shows unasked: the answer, what to do with the hands, what could go
// wrong. Reasons and assumptions wait for --why; all of it is in JSON and on the sheet.

// Brief gives the setup's sections without reasons, each warning and caution once, and
// how many reasons were left out.
func (s *Setup) Brief() (out []Section, reasons int) {
	b := &brief{said: words.Said{}}
	add := func(sec Section) {
		if sec = b.without(sec); len(sec.Blocks) > 0 {
			out = append(out, sec)
		}
	}
	add(s.glance(b))
	if s.Checklist {
		add(s.alarmSection())
		return out, b.reasons
	}
	for _, sec := range s.text() {
		if sec.ID != "answer" {
			add(sec)
		}
	}
	return out, b.reasons
}

// brief is what was said already, and how many reasons weren't.
type brief struct {
	said    words.Said
	reasons int
}

// without leaves reasons out of a section, and what was said before.
func (b *brief) without(sec Section) Section {
	var blocks []Block
	for _, bl := range sec.Blocks {
		p, para := bl.(Para)
		t, table := bl.(Table)
		switch {
		case table && t.Why:
			b.reasons++
		case !para || p.Level == "":
			blocks = append(blocks, bl)
		case p.Level == registration.LevelNote || p.Level == registration.LevelAssumed:
			b.reasons++
		case b.said.First(p.Text):
			blocks = append(blocks, bl)
		}
	}
	sec.Blocks = blocks
	return sec
}

// glance is the answer as it is read at the machine: the second zero first, then the
// turn, then what could go wrong.
func (s *Setup) glance(b *brief) Section {
	sec := Section{ID: "answer", Title: s.Name()}
	a := s.Answer
	if a == nil {
		return sec
	}
	q := a.Question
	say := func(level, text string) { sec.Blocks = append(sec.Blocks, Para{level, text}) }
	lines := Pairs{}
	switch {
	case a.Second != nil:
		z := a.Second
		lines.Rows = append(lines.Rows, [2]string{z.Offset + "  " + xyz(z.X, z.Y, z.Z), "second zero, " + words.Frame(z.Machine) + s.touchedZ()})
	default:
		lines.Rows = append(lines.Rows, [2]string{"Second zero", "not known: " + s.zeroMissing()})
	}
	arcs := "arcs keep their sense"
	if a.Transform.OneAxis() {
		arcs = "arcs change sense; climb becomes conventional"
	}
	formula := a.Transform
	if a.Lie != nil { // the next row says it
		formula = formula.Straight()
	}
	lines.Rows = append(lines.Rows, [2]string{formula.String(), arcs})
	if a.Lie != nil {
		lines.Rows = append(lines.Rows, lieRow(a.Lie, s.Unit))
	}
	sec.Blocks = append(sec.Blocks, lines, Para{"", strings.TrimSpace(turnWords(q.Flip, a.FaceTurn) + " " + s.seatWords())})
	for _, p := range s.Alerts() {
		sec.Blocks = append(sec.Blocks, p)
	}
	s.glanceFacts(b, say)
	return sec
}

// answerWarnings are the answer's warnings. What was taken for granted and changes a number
// that is typed at the machine is one too.
func (s *Setup) answerWarnings() (out []string) {
	a := s.Answer
	if a == nil {
		return nil
	}
	for _, t := range a.Touches {
		if !t.SameEdge {
			out = append(out, words.Touch(t))
		}
	}
	var names, places, free []string
	for _, f := range a.Facts {
		switch is := f.Is.(type) {
		case registration.LocatorDefault:
			name := strings.TrimPrefix(is.Locator, "back ")
			if name == "stop" {
				name = is.Side.String() + " " + name
			}
			names, places = append(names, name), append(places, is.Side.Axis()+is.At.String())
			continue
		case registration.BackOffsetChosen:
			free = append(free, "using "+is.Offset+": check that it is free")
			continue
		}
		if f.Level == registration.LevelWarning && !saidByTouch(a, f) {
			out = append(out, words.Fact(f.Is, s.Unit))
		}
	}
	if len(names) > 0 {
		out = append(out, list(names)+" assumed where the nominal edges lie: "+strings.Join(places, ", "))
	}
	return append(out, free...)
}

// Alerts are the answer's warnings and cautions, in that order.
func (s *Setup) Alerts() (out []Para) {
	for _, text := range s.answerWarnings() {
		out = append(out, Para{registration.LevelWarning, text})
	}
	if s.Answer == nil {
		return out
	}
	for _, f := range s.Answer.Facts {
		if f.Level == registration.LevelCaution {
			out = append(out, Para{f.Level, words.Fact(f.Is, s.Unit)})
		}
	}
	return out
}

// glanceFacts counts the answer's reasons and says which tool Z is for.
func (s *Setup) glanceFacts(b *brief, say func(level, text string)) {
	a := s.Answer
	tool := false
	for _, t := range a.Touches {
		if t.SameEdge {
			b.reasons++
		}
	}
	for _, f := range a.Facts {
		switch f.Is.(type) {
		case registration.LocatorDefault, registration.BackOffsetChosen:
			continue
		case registration.ToolZ:
			tool = true
			continue
		}
		switch f.Level {
		case registration.LevelWarning, registration.LevelCaution:
		default:
			b.reasons++
		}
	}
	if tool {
		say("", "Z is for the tool you touch off with.")
	}
}

// seatWords say what the turned blank is put against.
func (s *Setup) seatWords() string {
	a := s.Answer
	switch a.Question.Register {
	case registration.Dowels:
		return "Put it on the dowels."
	case registration.Plug:
		return s.ontoPlug()
	case registration.Touched:
		if a.ToTouch() {
			return "Clamp it flat anywhere, then touch it."
		}
		return "Leave it clamped where it was touched."
	case registration.FenceStop:
		if fences := s.against(); fences != "" {
			return "Push it against " + fences + "."
		}
	}
	return ""
}

// ontoPlug says how the turned blank goes onto its plug, with what is moved before that.
func (s *Setup) ontoPlug() string {
	for _, f := range s.Answer.Facts {
		switch is := f.Is.(type) {
		case registration.ClockPinMoves:
			return capital(words.Fact(is, s.Unit)) + ". Put its bores over the plug and the pin."
		case registration.ClockFlatTurns:
			return "Turn the plug's flat to the " + is.Back.String() + " side. Put its bore over the plug."
		}
	}
	if fence := s.against(); fence != "" {
		return "Put its bore over the plug, its edge pushed against " + fence + "."
	}
	return "Put its bore over the plug."
}

// against names the fence and stop that the turned blank is pushed against, with where they
// stand; "" without one.
func (s *Setup) against() string {
	var parts []string
	for _, t := range s.Answer.Touches {
		name := t.BackLocator
		if name == "" {
			name = t.Locator
		}
		part := "the " + t.BackSide.String() + " " + name
		if t.BackKnown && s.Answer.Machine {
			part += " (" + t.BackSide.Axis() + t.BackCoord.String() + ")"
		}
		parts = append(parts, part)
	}
	return list(parts)
}

// lieRow says how a touched blank was found to lie, and how well its touches agree.
func lieRow(l *registration.Lie, unit transform.Unit) [2]string {
	var most decimal.Decimal
	for _, t := range l.Touches {
		most = decimal.Max(most, t.By)
	}
	agree := "touches agree to " + most.String() + " " + unit.String()
	if !l.Spare {
		agree = "one more touch would check these"
	}
	return [2]string{words.Lie(l), "turn known to " + l.Error.RoundCeil(3).String() + "°, " + agree}
}

// alarmSection holds a whole job's stops, warnings and the cautions that concern
// everything.
func (s *Setup) alarmSection() Section {
	sec := Section{ID: "alarms", Title: "Before you cut"}
	for _, p := range s.alarms() {
		sec.Blocks = append(sec.Blocks, p)
	}
	if s.Answer != nil {
		sec.Blocks = append(sec.Blocks, Para{"caution", strings.Join(s.bar(false), " ")})
	}
	return sec
}
