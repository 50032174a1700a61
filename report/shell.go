package report

import (
	"strings"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/registration/bed"
	"flipcalc/report/words"
)

// OneLine is the shortest answer, for a shell: the offset with its zero, or without
// a register the transform. Values are separated by blanks; nothing else is
// said but that a place is measured from the face zero, where it is.
func OneLine(a *registration.Answer) string {
	z := a.Second
	unit := inchOnly(a.Question.Unit)
	if z == nil {
		return a.Transform.String() + unit
	}
	if z.Machine {
		line := z.Offset + " " + xyz(z.X, z.Y, z.Z) + unit
		if a.Lie != nil && !a.Lie.Turn.IsZero() {
			line += " turned " + a.Lie.Turn.String()
		}
		return line
	}
	return z.Offset + " " + xyz(z.X, z.Y, z.Z) + unit + " from the face zero"
}

// inchOnly is " in" behind lengths in inches: in a line without a heading nothing else
// says that they aren't millimetres.
func inchOnly(u transform.Unit) string {
	if u == transform.Inch {
		return " in"
	}
	return ""
}

// StationLines are the stations for a shell, a line each: the offset with its zero in
// machine coordinates.
func StationLines(list []bed.Station, unit transform.Unit) string {
	var b strings.Builder
	for _, s := range list {
		b.WriteString(s.Offset + " " + xyz(s.Zero.X, s.Zero.Y, s.Zero.Z) + inchOnly(unit) + "\n")
	}
	return b.String()
}

// PinLines is the shortest answer, for a shell: each dowel as X,Y,DIA on a line of its
// own, or the least and the greatest diameter of a plug's stud.
func PinLines(p *PinFit) string {
	if p.Stud != nil {
		return p.Stud.Dia.Lower.String() + " " + p.Stud.Dia.Upper.String() + "\n"
	}
	var b strings.Builder
	for _, d := range p.Layout.Dowels {
		b.WriteString(d.X.String() + "," + d.Y.String() + "," + d.Dia.String() + "\n")
	}
	return b.String()
}

// CorrectedLine is a correction for a shell, with rounded lengths: the corrected zero's
// X and Y as OneLine gives them and the zero it started from, or without a second zero how far it moves.
func CorrectedLine(l *Landed, unit transform.Unit) string {
	if l.After == nil {
		return xy(words.FinePoint(registration.Point{X: l.Shift.X.Neg(), Y: l.Shift.Y.Neg()}, unit)) + inchOnly(unit)
	}
	z := correctedZero(*l.After, unit)
	do := ""
	if w := l.Ways[l.Best]; w.Do != "" {
		do = "; " + w.Do
	}
	return OneLine(&registration.Answer{Question: registration.Question{Unit: unit}, Second: &z}) + ", started from " + xy(registration.Point{X: l.Before.X, Y: l.Before.Y}) + ", " + l.From + do
}
