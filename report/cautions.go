package report

import (
	"slices"

	"flipcalc/registration"
	"flipcalc/report/words"
)

// locatorsNamed names the things that locate the blank, as the subject of a
// sentence.
func (s *Setup) locatorsNamed() string {
	if s.Answer != nil {
		switch s.Answer.Question.Register {
		case registration.Dowels:
			return "Dowels"
		case registration.Plug:
			if s.freeOnPlug() {
				return "Plug and shoulder"
			}
			return "Plug and clocking"
		case registration.FenceStop:
			return "Fence and stop"
		case registration.Touched:
			return "Edges and holes that were touched"
		}
	}
	return "Dowels, plug, fence and stop"
}

// Cautions gives the cautions that apply to this setup, in a fixed order.
func (s *Setup) Cautions() []Caution {
	if !s.Checklist {
		return nil
	}
	cuts := len(s.Programs) > 0 || s.Answer != nil
	var reg registration.Register
	if s.Answer != nil {
		reg = s.Answer.Question.Register
	}
	apply := map[string]bool{
		"tool-change":   s.unstopped() != "",
		"practice":      true,
		"dry-run":       cuts,
		"check-zero":    cuts,
		"hold":          reg != registration.NoRegister || len(s.Stations) > 0,
		"tabs":          s.Check.free(),
		"seat":          true,
		"path":          true,
		"drill-clear":   s.across(),
		"hands":         !s.Guarded,
		"hands-guarded": s.Guarded,
		"wear":          true,
		"same-tool":     s.Answer != nil && s.Answer.Second != nil && s.Answer.Second.Z != nil,
		"lengths":       s.Answer != nil,
		"old-values":    len(s.Overwritten()) > 0,
		"offsets-once":  len(s.Lines) > 0,
		"stop-edge":     reg == registration.FenceStop,
		"turn":          s.Answer != nil,
	}
	var out []Caution
	for _, c := range words.Cautions {
		if apply[c.Code] {
			out = append(out, Caution{c.Code, s.caution(c.Code)})
		}
	}
	return out
}

// caution is a caution's text for this setup.
func (s *Setup) caution(code string) string {
	switch code {
	case "hold":
		return words.Caution(code, s.locatorsNamed())
	case "tool-change":
		return words.Caution(code, s.unstopped())
	case "stop-edge":
		return words.Caution(code, "stop")
	}
	return words.Caution(code, "")
}

// freeOnPlug reports whether nothing keeps the blank from turning on its plug, since
// it is round.
func (s *Setup) freeOnPlug() bool {
	if s.Answer == nil {
		return false
	}
	q := s.Answer.Question
	return q.Round && (q.Clock.Kind == "" || q.Clock.Kind == registration.ClockNone)
}

// Overwritten names the offsets whose old values are lost: those of the stations, or
// the face's, whose Z at least is touched off, and the second zero's.
func (s *Setup) Overwritten() []string {
	var out []string
	seen := map[string]bool{}
	add := func(o string) {
		if o != "" && !seen[o] {
			seen[o] = true
			out = append(out, o)
		}
	}
	for _, st := range s.Stations {
		add(st.Offset)
	}
	if a := s.Answer; len(s.Stations) == 0 && a != nil {
		add(a.Question.FaceOffset())
		if a.Second != nil {
			add(a.Second.Offset)
		}
	}
	return out
}

// ProgramCautions are the cautions that go with every written program, for the
// terminal where the program itself carries no comment.
func ProgramCautions() []string {
	var out []string
	for _, code := range []string{"dry-run", "check-zero", "hands", "wear", "practice"} {
		out = append(out, words.Caution(code, ""))
	}
	return out
}

// cautionSection lists the cautions that stand at no step.
func (s *Setup) cautionSection() Section {
	sec := Section{ID: "cautions", Title: "Cautions"}
	var items []string
	steps := s.Steps()
	for _, c := range s.Cautions() {
		if !slices.ContainsFunc(steps, func(st Step) bool { return slices.Contains(st.Cautions, c) }) {
			items = append(items, c.Text)
		}
	}
	if len(items) > 0 {
		sec.Blocks = append(sec.Blocks, Bullets{items})
	}
	return sec
}
