package report

import "testing"

// A minus stays with its number and hyphens with the flag that they begin (common
// practice of setting numbers); a hyphen within a word may end a line.
func TestProse(t *testing.T) {
	for in, want := range map[string]string{
		"lower, Z-128: touch":     `lower, <span class="w">Z-128</span>: touch`,
		"it goes on with --no-go": `it goes on with <span class="w">--no-go</span>`,
		"-0.012 to 0.008":         `<span class="w">-0.012</span> to 0.008`,
		"the near-left <corner>":  "the near-left &lt;corner&gt;",
	} {
		if got := string(prose(in)); got != want {
			t.Errorf("%s: %s, want %s", in, got, want)
		}
	}
}
