package main

import (
	"fmt"

	"flipcalc/mirror/motion"
	"flipcalc/report"
)

// reportMotion is a program's summary as the report shows it.
func reportMotion(s *motion.Summary) report.Motion {
	m := report.Motion{Known: s.Moves > 0, CutLength: s.CutLength, RapidLength: s.RapidLength, Seconds: s.Seconds,
		RapidsBelowZero: int(s.Rapids), FirstRapidLine: s.FirstRapid}
	for i, e := range s.Cut {
		m.Least[i], m.Greatest[i] = e.Min, e.Max
	}
	for _, t := range s.Tools {
		if t.Number >= 0 {
			m.Tools = append(m.Tools, t.Number)
		}
	}
	for _, o := range s.Offsets {
		if o != 0 {
			m.Offsets = append(m.Offsets, offsetName(o))
		}
	}
	return m
}

// offsetName names an offset by ten times its G number, 540 for G54.
func offsetName(code int) string {
	if code%10 == 0 {
		return fmt.Sprintf("G%d", code/10)
	}
	return fmt.Sprintf("G%d.%d", code/10, code%10)
}
