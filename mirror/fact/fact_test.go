package fact

import (
	"fmt"
	"testing"
)

type part struct {
	Line int
	Tool int `json:"-"`
}

type (
	// OtherEdge has a field of each kind.
	OtherEdge struct {
		At     fmt.Stringer
		Lines  []string
		Parts  [2]part
		On     *part
		Hidden bool `json:"-"`
	}
	bareFact struct{}
)

type place float64

func (p place) String() string { return fmt.Sprintf("%.1f", float64(p)) }

// TestValues: code and values are what who reads JSON goes by, so a list is flat, what isn't
// there is left out, and so is what the tag hides.
func TestValues(t *testing.T) {
	for _, c := range []struct {
		is           any
		code, values string
	}{
		{bareFact{}, "bare", "[]"},
		{OtherEdge{At: place(1.25), Parts: [2]part{{1, 9}, {2, 9}}}, "other-edge", "[1.2 1 2]"},
		{OtherEdge{At: place(2), Lines: []string{"3", "4-5"}, On: &part{Line: 7}}, "other-edge", "[2.0 3 4-5 0 0 7]"},
	} {
		if code, values := Code(c.is), fmt.Sprint(Values(c.is)); code != c.code || values != c.values {
			t.Errorf("%+v: %s %s, want %s %s", c.is, code, values, c.code, c.values)
		}
	}
}

// TestSame: two facts say the same where kind and values are, whatever the tag hides.
func TestSame(t *testing.T) {
	a := OtherEdge{At: place(1)}
	for _, c := range []struct {
		b    any
		want bool
	}{{OtherEdge{At: place(1), Hidden: true}, true}, {OtherEdge{At: place(2)}, false}, {bareFact{}, false}} {
		if Same(a, c.b) != c.want {
			t.Errorf("%+v: same is %v", c.b, !c.want)
		}
	}
}
