package report

import (
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/cut"
	"flipcalc/mirror/cycle"
	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report/words"
)

// TouchTool is the tool to touch off with: the first flat one, since others don't touch
// with their whole diameter; nil where there is none.
func TouchTool(tools []cut.Tool) *cut.Tool {
	i := slices.IndexFunc(tools, func(t cut.Tool) bool { return t.Shape == cut.Flat })
	if i < 0 {
		return nil
	}
	return &tools[i]
}

// SetTouchOff adds the readings by which each station's offset is set by hand, and
// the blocks that check it. pairs are the answers at the stations, fewer where they
// aren't known; clearZ, in the layout's unit, may be nil.
func (s *Setup) SetTouchOff(l *bed.Layout, pairs []*registration.Answer, tools []cut.Tool, clearZ *decimal.Decimal) {
	var radius *decimal.Decimal
	if t := TouchTool(tools); t != nil {
		r := ToolOf(*t, l.Unit).Dia.Div(decimal.New(2, 0))
		radius, s.TouchTool = &r, t.Number
	}
	feeler := decimal.Decimal{}
	if s.Feeler != nil {
		feeler = *s.Feeler
	}
	for i := range l.Stations {
		st := &l.Stations[i]
		touched := *st
		touched.Zero.Z = s.expected(st.Side == bed.BackSide) // what the machine reads, not what is stored
		if st.Pair <= len(pairs) {
			s.TouchOffs = append(s.TouchOffs, touchOffs(&touched, pairs[st.Pair-1], radius, feeler)...)
		}
		s.OffsetChecks = append(s.OffsetChecks, OffsetCheck{st.Offset, cycle.OverZero(st.Offset, l.Unit, clearZ)})
	}
}

// touchOffs are the readings at one station, given the answer for its pair. radius is
// half the tool, nil where that isn't known.
func touchOffs(st *bed.Station, a *registration.Answer, radius *decimal.Decimal, feeler decimal.Decimal) (out []TouchOff) {
	for _, target := range st.Targets(a) {
		row := TouchOff{Pair: st.Pair, Side: st.Side, Offset: st.Offset, What: target.What, Centred: target.Side == 0, Axis: string("XYZ"[target.Axis])}
		r := decimal.Decimal{}
		switch {
		case row.Centred || target.Axis == 2:
		case radius == nil:
			row.Half = target.Side
		default:
			r = *radius
		}
		t := st.TouchOff(target, r, feeler)
		row.Reads = &t.Reads
		if row.Half == 0 {
			row.Machine = t.Machine
		}
		out = append(out, row)
	}
	return out
}

// touches are the readings at all stations; without stations those at the only places, half
// the tool left out. Nothing is read over a plug at the face that bores for it, nor over
// dowels in holes that were drilled through blank and bed: those stand right.
func (s *Setup) touches() []TouchOff {
	if s.Answer == nil {
		return s.TouchOffs
	}
	rows := slices.Clone(s.TouchOffs)
	if len(rows)+len(s.Stations) == 0 && s.Answer.Question.Register != registration.NoRegister {
		for _, st := range s.places() {
			rows = append(rows, touchOffs(&st, s.Answer, nil, decimal.Decimal{})...)
		}
	}
	c := s.checklist()
	return slices.DeleteFunc(rows, func(t TouchOff) bool { return t.Centred && (c.through() || c.bored() && t.Side == bed.FaceSide) })
}

func (s *Setup) touchOffSection() Section {
	sec := Section{ID: "touch-off", Title: "Touch-off"}
	if rows := s.touches(); len(s.TouchOffs) > 0 {
		caption := "To set or check by hand: what the axis reads in the offset when the tool touches, " + s.bedUnit().String()
		needs, unknown := false, false
		for _, t := range rows {
			needs = needs || t.Axis != "Z" && !t.Centred
			unknown = unknown || t.Half != 0
		}
		if s.TouchTool > 0 && needs {
			caption += ", with T" + itoa(s.TouchTool)
		}
		switch {
		case s.Feeler != nil:
			caption += ", feeler " + s.Feeler.String()
		default:
			caption += ", no feeler between"
		}
		t := Table{Caption: caption, Head: []string{"Offset", "Side", "Touch", "Axis", "Reads", "Machine"}, Right: []int{4, 5}}
		_, names := s.namedTouches(1)
		for i, r := range rows {
			reads, machine := r.Reads.String(), ""
			switch r.Half {
			case 1:
				reads += " + half the tool"
			case -1:
				reads += " - half the tool"
			}
			if r.Machine != nil {
				machine = r.Machine.String()
			}
			what := r.What
			if r.Centred {
				what = "center over the " + what
			}
			if names[i] != "" { // as on page one
				what = names[i] + " " + what
			}
			t.Rows = append(t.Rows, []string{r.Offset, r.Side, what, r.Axis, reads, machine})
		}
		sec.Blocks = append(sec.Blocks, t)
		if unknown {
			sec.Blocks = append(sec.Blocks, Para{"note", words.HalfTool})
		}
	}
	if len(s.OffsetChecks) > 0 {
		sec.Blocks = append(sec.Blocks, Para{"", "Check each offset block by block, hand on feed hold: the tool comes over its X0 Y0."})
		var lines []string
		safe := true
		for _, c := range s.OffsetChecks {
			lines = append(lines, strings.Join(c.Lines, " | "))
			safe = safe && len(c.Lines) > 3
		}
		sec.Blocks = append(sec.Blocks, Code{lines})
		if !safe {
			sec.Blocks = append(sec.Blocks, Para{"caution", "jog the tool above everything on the bed before each (no clear height: give longest)"})
		}
	}
	return sec
}
