package registration

import (
	"errors"
	"strings"
	"testing"

	"flipcalc/mirror/transform"
)

// marker is a row marker with two dowels on the flip line.
func marker() Question {
	return Question{
		Stock: &Blank{d("120"), d("80"), d("12")}, Flip: FlipY, Register: Dowels,
		Pins: []Pin{{At: Point{d("60"), d("8")}, Dia: d("6")}, {At: Point{d("60"), d("72")}, Dia: d("8")}},
	}
}

// board is a bread board against a fence and a stop.
func board() Question {
	return Question{
		Stock: &Blank{d("140"), d("90"), d("19")}, Flip: FlipY, Register: FenceStop,
		Fence: Contact{Side: Near}, Stop: Contact{Side: Left},
	}
}

// bobbin is a bobbin end on a plug, clocked by a pin.
func bobbin() Question {
	return Question{
		Stock: &Blank{d("70"), d("70"), d("10")}, Flip: FlipY, Register: Plug,
		Bore:  &Pin{At: Point{d("35"), d("35")}, Dia: d("22")},
		Clock: Clocking{Kind: ClockPin, Pin: Point{d("35"), d("60")}, Dia: d("5")},
	}
}

func TestRefusals(t *testing.T) {
	var tests = []struct {
		from   func() Question
		change func(q *Question)
		no     bool
		want   string
	}{
		// Blank and flip.
		{board, func(q *Question) { q.Stock = nil }, false,
			`stock: missing, expected the blank's size WxHxT, such as 120x80x12`},
		{board, func(q *Question) { q.Stock.W = d("0") }, false,
			`stock: the width W is 0, expected a length greater than 0`},
		{board, func(q *Question) { q.Stock.T = d("-19") }, false,
			`stock: the thickness T is -19, expected a length greater than 0`},
		{board, func(q *Question) { q.Measured = &Blank{d("90"), d("140"), d("19")} }, false,
			`measured: 90x140x19 of a blank of 140x90x19, expected sizes within half of the nominal ones; hint: another blank, or another unit? ‹stock› is the nominal size`},
		{board, func(q *Question) { q.Measured = &Blank{d("280"), d("90"), d("19")} }, false,
			`measured: 280x90x19 of a blank of 140x90x19, expected sizes within half of the nominal ones; hint: another blank, or another unit? ‹stock› is the nominal size`},
		{marker, func(q *Question) { q.Pins[0].Dia, q.Pins[1].Dia, q.Hole = d("5"), d("5"), holes("4") }, false,
			`hole: a hole of 4 for the dowel of 5, expected a hole of 5 or a little more`},
		{bobbin, func(q *Question) { q.Clock.Dia, q.Clock.Hole = d("5"), d("4") }, false,
			`hole: a hole of 4 for the index pin of 5, expected a hole of 5 or a little more`},
		{board, func(q *Question) { q.Measured = &Blank{d("140"), d("0"), d("19")} }, false,
			`measured: the height H is 0, expected a length greater than 0`},
		{board, func(q *Question) { q.Flip = FlipUnset }, false,
			`flip: missing, expected x or y; hint: y turns the blank over like a page, left edge to the right; x turns the near edge to the far side`},
		{board, func(q *Question) { q.Skimmed = d("-1") }, false,
			`skimmed: -1, expected 0 or more`},
		{board, func(q *Question) { q.Skimmed = d("19") }, false,
			`skimmed: 19 off a blank 19 thick leaves nothing, expected less than the thickness`},
		// Zeros.
		{board, func(q *Question) { q.Zero = Zero{At: &Point{d("10"), d("5")}} }, false,
			`back-zero: missing, and ‹zero 10,5› is a place of its own, expected near-left, near-right, far-left, far-right, center or X,Y; hint: measured on the blank with the back up`},
		{board, func(q *Question) { q.Zero = Zero{Name: "middle"} }, false,
			`zero: "middle", expected near-left, near-right, far-left, far-right, center or X,Y`},
		{board, func(q *Question) { q.BackZero = Zero{Name: "top"} }, false,
			`back-zero: "top", expected near-left, near-right, far-left, far-right, center or X,Y`},
		// A hole twice as wide as its pin is a slip.
		{marker, func(q *Question) { q.Hole = holes("12", "8.1") }, false,
			`hole: a hole of 12 for the dowel of 6, expected a hole of 6 or a little more`},
		{marker, func(q *Question) { q.Hole = holes("6.1", "7.7") }, false,
			`hole: a hole of 7.7 for the dowel of 8, expected a hole of 8 or a little more`},
		// Offsets.
		{board, func(q *Question) { q.Offset, q.BackOffset = "G55", "G55" }, false,
			`back-offset: G55 is the face's offset too, expected another one; hint: both zeros must be stored at once, or the second overwrites the first`},
		{board, func(q *Question) { q.BackOffset = "G54" }, false,
			`back-offset: G54 is the face's offset too, expected another one; hint: both zeros must be stored at once, or the second overwrites the first`},
		{board, func(q *Question) { q.Taken, q.Offset = []string{"G54"}, "G54" }, false,
			`offset: G54 is taken, expected a free offset; hint: free: G55, G56, G57, G58, G59`},
		{board, func(q *Question) { q.Taken, q.BackOffset = []string{"G55"}, "G55" }, false,
			`back-offset: G55 is taken, expected a free offset; hint: free: G56, G57, G58, G59`},
		{board, func(q *Question) { q.Taken, q.Offset = []string{"G54", "G57"}, "G57" }, false,
			`offset: G57 is taken, expected a free offset; hint: free: G55, G56, G58, G59`},
		{board, func(q *Question) { q.BackOffset = "G53" }, false,
			`back-offset: "G53", expected a work offset: G54 to G59, or G59.1 to G59.3`},
		{board, func(q *Question) { q.BackOffset = "G59.1" }, false,
			`back-offset: G59.1 is an offset that not every control has, expected G54 to G59; hint: if the control has G59.1 to G59.3: extended = true in the machine file`},
		{board, func(q *Question) { q.Taken = []string{"G60"} }, false,
			`taken: "G60", expected a work offset: G54 to G59, or G59.1 to G59.3`},
		{board, func(q *Question) { q.Taken = []string{"G55", "G56", "G57", "G58", "G59"} }, false,
			`back-offset: none is free: G54 is the face's, G55, G56, G57, G58, G59 are taken, expected a free one; hint: if the control has G59.1 to G59.3: extended = true in the machine file`},
		// Fence and stop.
		{board, func(q *Question) { q.Fence.Side = NoSide }, false,
			`fence: missing, expected near, far, left or right; hint: two contacts, best on the longer edge`},
		{board, func(q *Question) { q.Stop.Side = NoSide }, false,
			`stop: missing: nothing places the blank along the fence, expected left or right`},
		{board, func(q *Question) { q.Stop.Side = Far }, false,
			`stop: far with ‹fence near›: not across each other, expected left or right; hint: the fence takes one direction and the turn, the stop the direction along the fence`},
		{board, func(q *Question) { q.Fence.Side, q.Stop.Side = Left, Right }, false,
			`stop: right with ‹fence left›: not across each other, expected near or far; hint: the fence takes one direction and the turn, the stop the direction along the fence`},
		{board, func(q *Question) { q.BackStop.Side = Near }, false,
			`back-stop: near with ‹back-fence near›: not across each other, expected left or right; hint: the fence takes one direction and the turn, the stop the direction along the fence`},
		{board, func(q *Question) { q.BackFence.Side = Right }, false,
			`back-stop: left with ‹back-fence right›: not across each other, expected near or far; hint: the fence takes one direction and the turn, the stop the direction along the fence`},
		{board, func(q *Question) {
			q.At, q.Stop.Coord = &Position{X: d("50"), Y: d("60")}, ptr("51")
		}, false,
			`stop: left@51 and ‹at› disagree: by ‹at› and ‹zero› the left edge is at X50, expected the same place twice; hint: leave one of the two out, or correct it`},
		{board, func(q *Question) {
			q.At, q.Stop = &Position{X: d("50"), Y: d("60")}, Contact{Side: Right, Coord: ptr("189")}
		}, false,
			`stop: right@189 and ‹at› disagree: by ‹at› and ‹zero› the right edge is at X190, expected the same place twice; hint: leave one of the two out, or correct it`},
		{board, func(q *Question) {
			q.At, q.Fence.Coord = &Position{X: d("50"), Y: d("60")}, ptr("-60")
		}, false,
			`fence: near@-60 and ‹at› disagree: by ‹at› and ‹zero› the near edge is at Y60, expected the same place twice; hint: leave one of the two out, or correct it`},
		{board, func(q *Question) { q.Fence.Coord = ptr("60") }, false,
			`stop: left has no machine coordinate, the fence has one (near@60), expected both or neither; hint: give SIDE@COORDINATE for both, or the face zero with ‹at X,Y›`},
		{board, func(q *Question) { q.Stop.Coord = ptr("50") }, false,
			`fence: near has no machine coordinate, the stop has one (left@50), expected both or neither; hint: give SIDE@COORDINATE for both, or the face zero with ‹at X,Y›`},
		{board, func(q *Question) { q.BackStop = Contact{Side: Right, Coord: ptr("190")} }, false,
			`fence: near has no machine coordinate, the stop has one (right@190), expected both or neither; hint: give SIDE@COORDINATE for both, or the face zero with ‹at X,Y›`},
		// Dowels.
		{marker, func(q *Question) { q.Pins = nil }, false,
			`pin: 0 given, expected at least two dowels; hint: on one dowel the blank turns; add ‹pin + X,Y,DIA›`},
		{marker, func(q *Question) { q.Pins = q.Pins[:1] }, false,
			`pin: 1 given, expected at least two dowels; hint: on one dowel the blank turns; add ‹pin + X,Y,DIA›`},
		{marker, func(q *Question) { q.Pins[1].At.X = d("61") }, true,
			`pin: turned over (flip y), the holes don't come back over the dowels: the two stand 1 apart in X and 64 in Y, expected all dowels on one line along Y, or in pairs of one diameter at the same Y, as far either side of it; hint: a second station takes any dowels: give its first with ‹back-pin X,Y›`},
		{marker, func(q *Question) {
			q.Pins[0].At, q.Pins[1].At = Point{d("10"), d("40")}, Point{d("110"), d("40")}
		}, true,
			`pin: turned over (flip y), the holes don't come back over the dowels: their sizes differ, expected all dowels on one line along Y, or in pairs of one diameter at the same Y, as far either side of it; hint: these dowels fit ‹flip x›; a second station takes any dowels: give its first with ‹back-pin X,Y›`},
		{marker, func(q *Question) { q.Flip = FlipX }, true,
			`pin: turned over (flip x), the holes don't come back over the dowels: their sizes differ, expected all dowels on one line along X, or in pairs of one diameter at the same X, as far either side of it; hint: these dowels fit ‹flip y›; a second station takes any dowels: give its first with ‹back-pin X,Y›`},
		{marker, func(q *Question) {
			q.Pins[1].Dia = d("6")
			q.Pins = append(q.Pins, Pin{At: Point{d("20"), d("8")}, Dia: d("6")})
		}, true,
			`pin: turned over (flip y), the holes don't come back over the dowels: some miss by 17.21 mm or more, expected all dowels on one line along Y, or in pairs of one diameter at the same Y, as far either side of it; hint: a second station takes any dowels: give its first with ‹back-pin X,Y›`},
		{marker, func(q *Question) { q.Pins[1].At.Y = d("81") }, false,
			`pin: dowel 2 at 60,81 is outside the blank of 120 by 80, expected X 0 to 120, Y 0 to 80; hint: from the near-left corner, face up`},
		{marker, func(q *Question) { q.Pins[0].At.X = d("-0.1") }, false,
			`pin: dowel 1 at -0.1,8 is outside the blank of 120 by 80, expected X 0 to 120, Y 0 to 80; hint: from the near-left corner, face up`},
		{marker, func(q *Question) { q.Pins[1].At = q.Pins[0].At }, false,
			`pin: dowels 1 and 2 overlap, at 60,8 and 60,8, expected dowels apart from each other`},
		{marker, func(q *Question) { q.Pins[1].At.Y = d("14.9") }, false,
			`pin: dowels 1 and 2 overlap, at 60,8 and 60,14.9, expected dowels apart from each other`},
		{marker, func(q *Question) { q.Pins[1].Dia = d("0") }, false,
			`pin: 1 of 2 dowels have no diameter, expected a diameter for all or for none; hint: the diameters decide which way round the blank goes on: ‹pin X,Y,DIA; X,Y,DIA›`},
		{marker, func(q *Question) { q.Pins[1].Dia = d("-6") }, false,
			`pin: dowel 2 has diameter -6, expected a diameter greater than 0`},
		{marker, func(q *Question) { q.Hole = holes("0") }, false,
			`hole: the diameter is 0, expected a length greater than 0`},
		{marker, func(q *Question) { q.Hole = holes("6.1") }, false,
			`hole: one hole of 6.1 for dowels of 6 and 8, expected one for each ‹pin›, in the same order; hint: give ‹hole› for each, or in mm a ‹fit› such as H7/g6 and no ‹hole›`},
		{marker, func(q *Question) { q.Hole = holes("6.1", "8.1", "8.1") }, false,
			`hole: 3 holes for 2 dowels, expected one for all, or one for each ‹pin› in the same order`},
		{marker, func(q *Question) { q.Hole = holes("6.1", "0") }, false,
			`hole: the diameter is 0, expected a length greater than 0`},
		{marker, func(q *Question) { q.BackPin, q.DrilledFace = &Point{d("300"), d("20")}, true }, false,
			`drilled: face, and dowels of its own for the back, which can't be drilled through the blank, expected the same dowels for both sides, or no ‹drilled›`},
		{marker, func(q *Question) { q.Fit = "tight" }, false,
			`fit: fit "tight", expected a hole class, a slash and a shaft class, such as H7/g6`},
		{marker, func(q *Question) { q.Fit, q.Pins[1].Dia, q.Hole = "h7/H7", d("6"), holes("6.1") }, false,
			`fit: fit "h7/H7", expected the hole's class first; hint: write H7/h7`},
		{marker, func(q *Question) { q.Fit, q.Unit = "H7/g6", transform.Inch }, false,
			`fit: fit H7/g6 with lengths in inches, expected a hole diameter in inches, since ISO 286 fits don't name inch holes; hint: give ‹hole›`},
		// Plug.
		{bobbin, func(q *Question) { q.Fit, q.Unit = "H7/g6", transform.Inch }, false,
			`fit: fit H7/g6 with lengths in inches, expected a hole diameter in inches, since ISO 286 fits don't name inch holes; hint: give ‹plug›`},
		{bobbin, func(q *Question) { q.Bore = nil }, false,
			`bore: missing, expected X,Y,DIA of the bore that goes over the plug; hint: from the near-left corner, face up`},
		{bobbin, func(q *Question) { q.Bore.Dia = d("0") }, false,
			`bore: the diameter is 0, expected X,Y,DIA with a diameter greater than 0`},
		{bobbin, func(q *Question) { q.Bore.At.X = d("71") }, false,
			`bore: the bore at 71,35 is outside the blank of 70 by 70, expected X 0 to 70, Y 0 to 70; hint: from the near-left corner, face up`},
		{bobbin, func(q *Question) { q.Bore.At.X = d("11") }, false,
			`bore: the bore of 22 at 11,35 breaks out of the blank's edge, expected material all round it`},
		{bobbin, func(q *Question) { q.PlugD = ptr("22.01") }, false,
			`plug: a plug of 22.01 doesn't go into a bore of 22, expected at most 22`},
		{bobbin, func(q *Question) { q.PlugD = ptr("0") }, false,
			`plug: the diameter is 0, expected a length greater than 0`},
		{bobbin, func(q *Question) { q.Clock = Clocking{} }, false,
			`clock: missing: on a plug alone the blank turns, expected pin=X,Y, flat=SIDE or fence; hint: give ‹round true› if its turn doesn't matter`},
		{bobbin, func(q *Question) { q.Clock = Clocking{Kind: ClockNone} }, false,
			`clock: none: on a plug alone the blank turns, expected pin=X,Y, flat=SIDE or fence; hint: give ‹round true› if its turn doesn't matter`},
		{bobbin, func(q *Question) { q.Clock.Kind = "glue" }, false,
			`clock: "glue", expected pin=X,Y, flat=SIDE or fence, or none for a round part`},
		{bobbin, func(q *Question) { q.Clock.Dia = d("-5") }, false,
			`clock: the index pin has diameter -5 and its hole 0, expected diameters greater than 0`},
		{bobbin, func(q *Question) { q.Clock.Pin.Y = d("70.5") }, false,
			`clock: the index pin at 35,70.5 is outside the blank of 70 by 70, expected X 0 to 70, Y 0 to 70; hint: from the near-left corner, face up`},
		{bobbin, func(q *Question) { q.Clock.Pin.Y = d("45") }, false,
			`clock: the index pin at 35,45 stands in the bore, expected a place beside the bore; hint: the farther from the bore, the less the blank turns`},
	}
	for _, test := range tests {
		q := test.from()
		test.change(&q)
		a, err := Solve(q)
		var e *Error
		if a != nil || !errors.As(err, &e) {
			t.Errorf("no refusal, want %q", test.want)
			continue
		}
		if err.Error() != test.want {
			t.Errorf("got  %s\nwant %s", err, test.want)
		}
		if e.No != test.no {
			t.Errorf("%s: No = %v, want %v", err, e.No, test.no)
		}
		if e.About == "" || strings.HasPrefix(e.About, "-") || e.Found == "" || e.Expected == "" {
			t.Errorf("%s: about %q, found %q, expected %q: all three are needed", err, e.About, e.Found, e.Expected)
		}
	}
}
