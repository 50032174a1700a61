package cut

import (
	"math"
	"testing"
)

// Boxes of cells, both ends included, worked out by hand.
func TestCellBox(t *testing.T) {
	b := box([]span{{j: 4, i0: 10, i1: 19}, {j: 5, i0: 3, i1: 12}, {j: 9, i0: 11, i1: 40}})
	if b != (cellBox{3, 4, 40, 9}) {
		t.Errorf("%+v", b)
	}
	near(t, "across", b.across(), 38, 0)
	near(t, "across upright", cellBox{5, 0, 9, 20}.across(), 21, 0)
	if i, j := (cellBox{2, 10, 8, 30}).middle(); i != 5 || j != 20 {
		t.Errorf("middle %d %d", i, j)
	}
	near(t, "apart", cellBox{0, 0, 10, 4}.apart(cellBox{6, 8, 16, 12}), math.Hypot(6, 8), 1e-12)
	if w := b.with(cellBox{0, 6, 5, 20}); w != (cellBox{0, 4, 40, 20}) {
		t.Errorf("%+v", w)
	}
}
