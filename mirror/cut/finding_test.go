package cut

import (
	"os"
	"regexp"
	"testing"
)

// Every code has one place in the order in which findings are told.
func TestOrder(t *testing.T) {
	source, err := os.ReadFile("finding.go")
	if err != nil {
		t.Fatal(err)
	}
	places := map[Code]int{}
	for _, c := range order {
		places[c]++
	}
	codes := regexp.MustCompile(`Code += "([^"]+)"`).FindAllSubmatch(source, -1)
	for _, m := range codes {
		if n := places[Code(m[1])]; n != 1 {
			t.Errorf("%s: %d places", m[1], n)
		}
	}
	if len(codes) != len(order) {
		t.Errorf("%d codes, %d in order", len(codes), len(order))
	}
}
