package report

import (
	"flipcalc/mirror/fact"
	"flipcalc/registration"
	"flipcalc/registration/fit"
	"flipcalc/registration/pattern"
	"flipcalc/report/words"
)

// PlugOf puts the measures of a plug into words.
func PlugOf(a *registration.Answer, m fit.PlugMeasures) *PinFit {
	q := a.Question
	st := &Stud{BoreDia: q.Bore.Dia, Bore: m.Play.Hole, Dia: m.Play.Pin, Height: m.Height, Lead: m.Lead, Relief: m.Relief, Shoulder: m.Shoulder,
		Turn: a.Turn, LayUps: a.LayUps, BoreAt: q.Bore.At, Clocking: q.Clock.Kind}
	switch q.Clock.Kind {
	case "":
		st.Clocking = registration.ClockNone
	case registration.ClockPin:
		st.ClockPin = &q.Clock.Pin
	case registration.ClockFence:
		st.Side = q.Fence.Side.String()
	case registration.ClockFlat:
		st.Side = q.Clock.Side.String()
	}
	f := &PinFit{Pin: m.Play.Pin.Upper, Least: m.Play.Min, Most: m.Play.Max, Foolproof: a.Foolproof, Stud: st, Cure: cureOf(a)}
	if q.PlugD == nil {
		f.Fit = q.Fit
	}
	if m.Play.FromMemory {
		f.Say(fact.Note, words.PlugMemory{Fit: q.Fit})
	}
	f.Say(fact.Assumed, words.PlugPractice{})
	f.Notes = append(f.Notes, layoutNotes(a)...)
	return f
}

// AddIndex adds the index pin whose hole in the bed is drilled.
func (f *PinFit) AddIndex(p *pattern.Pattern) {
	d := dowelOf(p.Dowels[0])
	f.Index = &d
	f.Notes = append(f.Notes, factNotes(p.Facts)...)
}

// indexRow shows the index pin.
func indexRow(d *Dowel, unit string) [2]string {
	text := d.Label + " dia"
	if !d.Length.IsZero() {
		text += " x " + d.LengthLabel + ": " + d.InBlank.String() + " in the blank, " + d.InBed.String() + " in the bed"
	}
	return [2]string{"Index pin", text + "; hole in the blank " + d.Hole.String() + unit + ", clearance " + words.Clearance(d.Least, d.Most)}
}

// studBlocks show a plug's measures.
func (s *Setup) studBlocks(p *PinFit) []Block {
	st := p.Stud
	unit := " " + s.Unit.String()
	rows := [][2]string{{"Bore", words.Limits(st.Bore) + unit + " dia at " + xy(st.BoreAt) + " from the blank's near-left corner, face up"}}
	if p.Fit != "" {
		rows = append(rows, [2]string{"Fit", p.Fit})
	}
	rows = append(rows,
		[2]string{"Stud", words.Limits(st.Dia) + unit + " dia"},
		[2]string{"Clearance", words.Limits(fit.Limits{Lower: p.Least, Upper: p.Most}) + unit + " on the diameter" + fitWords(p)},
		[2]string{"Height", st.Height.String() + unit + " over the shoulder, below any cut over the bore"},
		[2]string{"Lead", st.Lead.String() + unit + " chamfer of 45 degrees at the stud's top"},
		[2]string{"Relief", "a groove of at least " + st.Relief.String() + unit + " where stud and shoulder meet, or that chamfer on the bore's edge"},
		[2]string{"Shoulder", "at least " + st.Shoulder.String() + unit + " dia"},
		[2]string{"Clocking", clockingWords(st)})
	rows = append(rows, turnRows(st.Turn, unit)...)
	if len(st.LayUps) > 0 {
		rows = append(rows, [2]string{"Verdict", words.Verdict(st.LayUps, p.Foolproof)})
		if p.Cure != "" {
			rows = append(rows, [2]string{"Cure", p.Cure})
		}
	}
	blocks := []Block{Pairs{rows}}
	if s.Answer == nil && len(st.LayUps) > 0 {
		blocks = append(blocks, layUpTable(st.LayUps, s.Unit))
	}
	return blocks
}

func clockingWords(st *Stud) string {
	switch st.Clocking {
	case registration.ClockPin:
		return "an index pin at " + xy(*st.ClockPin) + " from the blank's near-left corner, face up"
	case registration.ClockFlat:
		return "a flat on the " + st.Side + " side of the bore"
	case registration.ClockFence:
		if st.Side != "" {
			return "a fence on the " + st.Side + " side"
		}
		return "a fence"
	}
	return "none: the part is round"
}

// turnRows say how far the blank can still turn and shift on its plug.
func turnRows(t *registration.Turn, unit string) [][2]string {
	if t == nil {
		return nil
	}
	corner := "the farthest corner, "
	if t.Round {
		corner = "the rim, "
	}
	corner += t.Rim.String() + unit + " from the bore's center,"
	each := "each degree moves " + corner + " by " + t.PerDegree.String() + unit
	var rows [][2]string
	switch {
	case t.Free:
		rows = append(rows, [2]string{"Turn", "nothing stops it: " + each})
	case t.AtRim != nil && t.Degrees != nil:
		rows = append(rows, [2]string{"Turn", "clearance of plug and clocking: " + t.Degrees.String() + " degrees either way; " + corner + " moves up to " + t.AtRim.String() + unit})
	default:
		rows = append(rows, [2]string{"Turn", "as loose as the clocking is: " + each})
	}
	if t.Shift != nil {
		rows = append(rows, [2]string{"Shift", "up to " + t.Shift.String() + unit + " any way, half the clearance"})
	}
	return rows
}
