package pattern

import (
	"fmt"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fact"
	"flipcalc/registration"
)

func indexed(clock, hole string, flip registration.Flip, o Options) (*Pattern, error) {
	c, err := registration.ParseClock(clock, 0)
	if err != nil {
		return nil, err
	}
	q := registration.Question{Stock: blank("60", "60", "12"), Flip: flip, Register: registration.Plug,
		Bore: &registration.Pin{At: registration.Point{X: dec("30"), Y: dec("30")}, Dia: dec("12")}, PlugD: decp("11.95"),
		Clock: c}
	if hole != "" {
		q.Hole = []decimal.Decimal{dec(hole)}
	}
	a, err := registration.Solve(q)
	if err != nil {
		return nil, err
	}
	return Index(a, o)
}

// What becomes of an index pin: its length in blank and bed, its holes for face and back
// from the blank's corner, and what is told of it. Worked out by hand: of the blank's 12
// a pin may take 11.5 (half a millimetre stays over it), and a pin of 4 in lengths of ISO 8734 (values from
// memory) is 16 long with 11 in the blank.
func TestIndex(t *testing.T) {
	o := Options{Spoilboard: dec("18")}
	for _, c := range []struct {
		clock, hole string
		flip        registration.Flip
		o           Options
		want        string
	}{
		{"pin=55,30,4", "4.02", registration.FlipX, o, "16 with 5 in the bed, at 55,30 -12 -17"},
		{"pin=55,5,4", "4.02", registration.FlipX, o, "16 with 5 in the bed, at 55,5 -12 -17 and 55,55 -12 -17"},
		{"pin=5,30,4", "4.02", registration.FlipY, o, "16 with 5 in the bed, at 5,30 -12 -17 and 55,30 -12 -17"},
		{"pin=40,30,4", "4.02", registration.FlipX, o, "16 with 5 in the bed, at 40,30 -12 -17 index-under-shoulder[18]"},
		{"pin=55,30", "", registration.FlipX, o, "clock: no diameter of the index pin, expected pin=X,Y,DIA, since length and hole depend on it"},
		{"pin=55,30,4", "", registration.FlipX, o, "fit: no fit and no hole, expected ‹fit› such as H7/g6, or ‹hole DIA›"},
		{"pin=55,32,4", "4.02", registration.FlipX, o, "clock: the index pin's holes for face and back run into each other, 0 and 4 apart in X and Y, expected one hole for both, or 6 between their centres; hint: put the index pin at Y30, on the flip line through the bore"},
		{"pin=33,55,4", "4.02", registration.FlipY, o, "16 with 5 in the bed, at 33,55 -12 -17 and 27,55 -12 -17"}, // just one and a half diameters
		{"pin=32.99,55,4", "4.02", registration.FlipY, o, "clock: the index pin's holes for face and back run into each other, 5.98 and 0 apart in X and Y, expected one hole for both, or 6 between their centres; hint: put the index pin at X30, on the flip line through the bore"},
		{"pin=55,30,4", "4.02", registration.FlipX, Options{Spoilboard: dec("3")}, "clock: no length of ISO 8734 m6 suits the index pin of 4: 11.5 of room in the blank, 3 in the bed, expected at least one diameter in each; hint: use a thinner one, a deeper spoilboard or less depth over it"},
		{"flat=left", "", registration.FlipX, o, "clock: no index pin, expected pin=X,Y,DIA"},
	} {
		got, _, _ := strings.Cut(indexWords(indexed(c.clock, c.hole, c.flip, c.o)), "; hint: drilled in wood")
		if got != c.want {
			t.Errorf("%s: %s\nwant %s", c.clock, got, c.want)
		}
	}
}

func indexWords(p *Pattern, err error) string {
	if err != nil {
		return err.Error()
	}
	d := p.Dowels[0]
	s := fmt.Sprintf("%s with %s in the bed, at ", d.Length, d.InBed)
	for _, where := range []Where{Bed, BackBed} {
		if where == BackBed && p.Back() == nil {
			break
		}
		if where == BackBed {
			s += " and "
		}
		list, err := p.Bores(where, decimal.Zero)
		if err != nil {
			return err.Error()
		}
		s += fmt.Sprintf("%s,%s %s %s", list[0].X, list[0].Y, list[0].Surface, list[0].Bottom)
	}
	for _, f := range p.Facts {
		if f.Level == registration.LevelWarning {
			s += " " + f.Code() + fmt.Sprint(fact.Values(f.Is))
		}
	}
	return s
}
