package motion

import (
	"strings"
	"testing"
)

// TestBadMacros: what a macro program is refused for, with the exact message.
func TestBadMacros(t *testing.T) {
	rows := strings.Split(strings.TrimSpace(badMacros), "\n\n")
	if len(rows) < 60 {
		t.Errorf("%d rows", len(rows))
	}
	for _, row := range rows {
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
