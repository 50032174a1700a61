package motion

import (
	"os"
	"strings"
	"testing"
)

// TestBadMacros: what a macro program is refused for, with the exact message: the rows of
// testdata/refused.txt are programs with the message behind =>.
func TestBadMacros(t *testing.T) {
	text, err := os.ReadFile("testdata/refused.txt")
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range strings.Split(strings.TrimSpace(string(text)), "\n\n") {
		text, want, ok := strings.Cut(row, "\n=> ")
		got := "passed"
		if err := Run([]byte(text+"\n"), Options{Name: "m.nc", Blocks: 1000}, func(*Machine, *Block, []Move) error { return nil }); err != nil {
			got = err.Error()
		}
		if got != want || !ok {
			t.Errorf("%s\n=> %s\n", text, got)
		}
	}
}
