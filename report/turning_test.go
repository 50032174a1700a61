package report

import (
	"strings"
	"testing"

	"flipcalc/registration"
)

// What hands do as a blank that lies turned is turned over. By hand, edges A near, B right,
// C far, D left at first: by a quarter counter-clockwise A lies right, B far, C left, D near,
// and a flip like a page exchanges B and D, which are far and near then.
func TestTurnWordsAtTurnedStations(t *testing.T) {
	page, away := "Turn like a page. Left edge goes right.", "Turn it away from you. Near edge goes far."
	for _, r := range []struct {
		flip         registration.Flip
		k            registration.Quarter
		words, check string
	}{
		{registration.FlipY, 0, page, "Check: edge B now left, D now right; A still near, C still far."},
		{registration.FlipX, 0, away, "Check: edge A now far, C now near; B still right, D still left."},
		{registration.FlipY, 1, away, "Check: edge B now near, D now far; A still right, C still left."},
		{registration.FlipX, 1, page, "Check: edge A now left, C now right; B still far, D still near."},
		{registration.FlipY, 2, page, "Check: edge B now right, D now left; A still far, C still near."},
		{registration.FlipY, 3, away, "Check: edge B now far, D now near; A still left, C still right."},
	} {
		if got := turnWords(r.flip, r.k); got != r.words {
			t.Errorf("flip %s at %s degrees: %s", r.flip, r.k.Degrees(), got)
		}
		if got := turnCheck(r.flip, r.k); got != r.check {
			t.Errorf("flip %s at %s degrees: %s, want %s", r.flip, r.k.Degrees(), got, r.check)
		}
	}
	answer := func(offset string, k registration.Quarter) *registration.Answer {
		return &registration.Answer{FaceTurn: k, Question: registration.Question{Offset: offset, Flip: registration.FlipY}}
	}
	s := &Setup{Pairs: []*registration.Answer{answer("G54", 0), answer("G56", 1), answer("G58", 0)}}
	s.Answer = s.Pairs[0]
	if got := s.turnTitle(); got != page+" At G56: "+away {
		t.Errorf("title %s", got)
	}
	c := &checklist{s: s, said: map[string]bool{}}
	c.turn()
	text := ""
	for _, step := range c.steps {
		text += step.Text + "\n"
	}
	for _, want := range []string{"At G54 and G58: " + page + " Check: edge B now left", "At G56: " + away + " Check: edge B now near"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	s.Pairs = s.Pairs[1:2]
	if got := s.turnTitle(); got != away {
		t.Errorf("title of one turned pair %s", got)
	}
}
