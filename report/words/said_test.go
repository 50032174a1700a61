package words

import "testing"

// TestSaid: a sentence is told the first time, another one still.
func TestSaid(t *testing.T) {
	s := Said{}
	for i, c := range []struct {
		text string
		want bool
	}{{"clamp it", true}, {"clamp it", false}, {"dry run", true}, {"clamp it", false}} {
		if got := s.First(c.text); got != c.want {
			t.Errorf("%d, %q: first is %v", i, c.text, got)
		}
	}
}
