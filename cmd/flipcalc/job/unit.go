package job

import (
	"fmt"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
	"flipcalc/registration"
	"flipcalc/report"
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
		how := "the program is in "
		if s.Units[job] {
			how = "the program is partly in "
		}
		text := fmt.Sprintf("%s%s, the job in %s: each length is taken in its own unit", how, unitCodes[other], unitCodes[job])
		extents := s.Cut
		if !extents[0].Any {
			extents = s.All
		}
		if mm, in := extentWords(extents, transform.MM), extentWords(extents, transform.Inch); mm != "" {
			text += "; it goes over " + mm + ", or " + in
		}
		out = append(out, report.Note{Code: "other-unit", Level: "warning", File: name,
			Text: text + "; if that isn't the part's size, correct the unit of program or job"})
	}
	for _, code := range s.Assumed {
		switch {
		case code != "G20" && code != "G21":
		case tiny(s, a):
			out = append(out, report.Note{Code: "unit-doubtful", Level: "warning", File: name,
				Text: "write G20 or G21 into it; every move is within a twentieth of the blank, taken as " + unitCodes[job]})
		case !told:
			out = append(out, report.Note{Code: "unit-assumed", Level: "assumed", File: name,
				Text: "no G20 or G21 before the first length: " + unitCodes[job] + " assumed"})
		}
	}
	return out
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

// unitCodes name the units with the words of a program that call them.
var unitCodes = [2]string{transform.MM: "mm (G21)", transform.Inch: "inches (G20)"}

// extentWords gives extents in a unit, "" where one isn't known.
func extentWords(e motion.Extents, u transform.Unit) string {
	b := e.Box(u)
	if !b.Any {
		return ""
	}
	places := int32(3)
	if u == transform.Inch {
		places = 4
	}
	var words []string
	for i, axis := range []string{"X", "Y", "Z"} {
		words = append(words, fmt.Sprintf("%s %s to %s", axis, b.Least[i].Round(places), b.Greatest[i].Round(places)))
	}
	return strings.Join(words, ", ") + " " + u.String()
}
