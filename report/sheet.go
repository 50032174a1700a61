package report

import "flipcalc/report/letters"

// text gives the sections without their drawings, which cost more than all the rest.
func (s *Setup) text() []Section {
	plain := *s
	plain.undrawn = true
	return plain.Sections()
}

// Sections gives the sheet's sections in reading order; empty ones are left out.
func (s *Setup) Sections() []Section {
	var out []Section
	for _, f := range []func() Section{
		s.answerSection,
		s.correctionSection,
		s.fitSection,
		s.cautionSection,
		s.stationSection,
		s.offsetSection,
		s.touchOffSection,
		s.checkSection,
		s.stepSection,
		s.planSection,
		s.programSection,
		s.toolSection,
		s.mirrorSection,
		s.budgetSection,
		s.noteSection,
	} {
		if sec := f(); len(sec.Blocks) > 0 {
			out = append(out, sec)
		}
	}
	return out
}

func (s *Setup) stepSection() Section {
	sec := Section{ID: "steps", Title: "Steps at the machine"}
	steps := s.Steps()
	for i := 0; i < len(steps); {
		j := i
		for j < len(steps) && steps[j].Phase == steps[i].Phase {
			j++
		}
		sec.Blocks = append(sec.Blocks, Checks{steps[i].Phase, i + 1, steps[i:j]})
		i = j
	}
	return sec
}

func (s *Setup) programSection() Section {
	sec := Section{ID: "programs", Title: "Programs"}
	if len(s.Programs) == 0 {
		return sec
	}
	if s.Drawings != nil && (s.Drawings.Face != nil || s.Drawings.Back != nil) {
		sec.Blocks = append(sec.Blocks, s.pathFigure())
	}
	t := Table{Caption: "Files", Head: []string{"File", "What", "Offset", "Size", "Takes about"}, Right: []int{3}}
	if s.Plan != nil && len(s.Plan.Orders) > 0 {
		t.Caption += "; tool changes count in the cycles' programs alone"
	}
	for _, p := range s.Programs {
		what := p.Role
		if p.From != "" && p.From != p.Name {
			what += " from " + p.From
		}
		takes := ""
		if p.Seconds > 0 {
			takes = letters.Duration(p.Seconds)
		}
		t.Rows = append(t.Rows, []string{p.Name, what, p.Offset, bytesOf(p.Bytes), takes})
	}
	sec.Blocks = append(sec.Blocks, t)
	// One line a file, as sha256sum writes and checks them.
	var sums []string
	for _, p := range s.Programs {
		if p.SHA256 != "" {
			sums = append(sums, p.SHA256+"  "+p.Name)
		}
	}
	if len(sums) > 0 {
		sec.Blocks = append(sec.Blocks, Para{"", "SHA-256 of each file:"}, Code{sums})
	}
	return sec
}
