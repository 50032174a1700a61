package cut

import (
	"os"
	"regexp"
	"testing"
)

// Every code has one place in the order in which findings are told.
func TestOrder(t *testing.T) {
	source, err := os.ReadFile("kind.go")
	if err != nil {
		t.Fatal(err)
	}
	places := map[string]int{}
	for _, c := range order {
		places[c]++
	}
	kinds := regexp.MustCompile(`Code\(\) string +\{ return "([^"]+)" \}`).FindAllSubmatch(source, -1)
	used := map[string]bool{}
	for _, m := range kinds {
		used[string(m[1])] = true
		if n := places[string(m[1])]; n != 1 {
			t.Errorf("%s: %d places", m[1], n)
		}
	}
	if len(kinds) < 47 || len(used) != len(order) {
		t.Errorf("%d kinds with %d codes, %d in order", len(kinds), len(used), len(order))
	}
}
