package registration

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/fact"
)

// facts gives the values of the facts with a code, nil if there is none.
func facts(a *Answer, code string) []string {
	for _, f := range a.Facts {
		if f.Code() == code {
			return append([]string{}, fact.Values(f.Is)...)
		}
	}
	return nil
}

// L2 = plug centre - s'(bore), with the plug where the bore lay or elsewhere.
func TestPlugPlaces(t *testing.T) {
	var tests = []struct {
		name           string
		change         func(q *Question)
		plug, l2, zero string
		machine        bool
	}{
		{"centred, from the face zero", func(q *Question) {}, "35,35", "0,0", "0,0", false},
		{"off the middle, turned over like a page", func(q *Question) {
			q.Bore.At = Point{d("30"), d("25")}
			q.Clock.Pin = Point{d("30"), d("60")}
		}, "30,25", "-10,0", "-10,0", false},
		{"off the middle, near edge to the far side", func(q *Question) {
			q.Flip = FlipX
			q.Bore.At = Point{d("30"), d("25")}
			q.Clock.Pin = Point{d("60"), d("25")}
		}, "30,25", "0,-20", "0,-20", false},
		{"zero at the bore", func(q *Question) {
			q.Zero = Zero{Name: "center"}
			q.At = &Position{X: d("400"), Y: d("250")}
		}, "400,250", "365,215", "400,250", true},
		{"a plug of its own for the back, face zero unknown", func(q *Question) {
			q.PlugAt = &Point{d("400"), d("250")}
		}, "400,250", "365,215", "365,215", true},
	}
	for _, test := range tests {
		q := bobbin()
		test.change(&q)
		a, err := Solve(q)
		if err != nil {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		zero := Point{a.Second.X, a.Second.Y}
		if a.PlugAt.String() != test.plug || a.BackCorner.String() != test.l2 || zero.String() != test.zero || a.Machine != test.machine {
			t.Errorf("%s: plug at %s, L2 %s, zero %s, machine %v", test.name, a.PlugAt, a.BackCorner, zero, a.Machine)
		}
		if assumed := facts(a, "plug-at-default") != nil; assumed != (q.PlugAt == nil) {
			t.Errorf("%s: plug's place assumed = %v", test.name, assumed)
		}
	}
}

func TestClockingPin(t *testing.T) {
	var tests = []struct {
		name, flip, pin string
		at              string // the pin's place for the back, from the face zero
		moves           bool
		foolproof       bool
	}{
		{"on the flip line", "y", "pin=35,60,5", "35,60", false, true},
		{"on the flip line", "x", "pin=60,35,5", "60,35", false, true},
		{"beside it", "y", "pin=55,55,5", "15,55", true, true},
		// Turned by 180 degrees, face up, the hole lies where the turned one would.
		{"level with the bore", "y", "pin=60,35,5", "10,35", true, false},
	}
	for _, test := range tests {
		q := bobbin()
		q.Flip, _ = ParseFlip(test.flip)
		q.Clock, _ = ParseClock(test.pin, 0)
		a, err := Solve(q)
		if err != nil {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		if a.ClockAt.String() != test.at || (facts(a, "clock-pin-moves") != nil) != test.moves || a.Foolproof != test.foolproof {
			t.Errorf("flip %s, %s: pin at %s, moves %v, foolproof %v", test.flip, test.name, a.ClockAt, facts(a, "clock-pin-moves"), a.Foolproof)
		}
	}
}

// A fence that clocks must meet the edge at the same distance from the bore.
func TestClockingFence(t *testing.T) {
	var tests = []struct {
		flip, side, back string
		bore             string
		same             bool
		moves            bool
		keep             string
	}{
		{"y", "near", "", "35,30,22", true, false, "near"},
		{"x", "near", "", "35,30,22", false, true, "far"}, // 30 from the near edge, 40 from the far one
		{"x", "near", "", "35,35,22", false, false, "far"},
		{"y", "left", "", "30,35,22", false, true, "right"},
		{"y", "left", "right", "30,35,22", true, true, "right"},
	}
	for _, test := range tests {
		q := bobbin()
		q.Flip, _ = ParseFlip(test.flip)
		q.Clock = Clocking{Kind: ClockFence}
		q.Fence.Side, _ = ParseSide(test.side)
		if test.back != "" {
			q.BackFence.Side, _ = ParseSide(test.back)
		}
		bore, _ := ParseBore(test.bore, 0)
		q.Bore = &bore
		a, err := Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		if len(a.Touches) != 1 {
			t.Fatalf("%d touches", len(a.Touches))
		}
		touch := a.Touches[0]
		if touch.SameEdge != test.same || (facts(a, "clock-fence-moves") != nil) != test.moves || touch.KeepSide.String() != test.keep {
			t.Errorf("flip %s, fence %s %s, bore %s: same %v, moves %v, keep %s", test.flip, test.side, test.back, test.bore,
				touch.SameEdge, facts(a, "clock-fence-moves"), touch.KeepSide)
		}
	}
	q := bobbin()
	q.Clock = Clocking{Kind: ClockFence}
	a, err := Solve(q)
	if err != nil || facts(a, "clock-fence-unsaid") == nil {
		t.Errorf("fence without a side: %v, %v", a, err)
	}
}

// A fence that clocks has its machine place from the plug: the bobbin end of 60 x 40
// lies with its near edge at Y100, its bore at Y115; turned over, near edge to
// the far side, the bore is 25 from the near edge, which then lies at Y90 and the far
// one at Y130 (derived).
func TestClockingFencePlace(t *testing.T) {
	at := &Position{X: d("100"), Y: d("100")}
	var tests = []struct {
		name, fence, back string
		at                *Position
		measured          string
		facts             string // of the fence's place, with its level
		want              string // the error
	}{
		{"side alone", "near", "", at, "", "clock-fence-moves warning near 100 machine near 90 machine", ""},
		{"where the edge lies", "near@100", "", at, "", "clock-fence-moves warning near 100 machine near 90 machine", ""},
		{"both places right", "near@100", "near@90", at, "", "clock-fence-moves note near 100 machine near 90 machine", ""},
		{"the other side", "near@100", "far@130", at, "", "clock-fence-moves note near 100 machine far 130 machine", ""},
		{"across the other axis", "left@100", "", at, "", "", ""},
		{"from the face zero", "near", "far", nil, "", "clock-fence-moves note near 0 face zero far 30 face zero", ""},
		{"a measured piece", "far@140", "far@130", at, "60x40.2x8", "clock-fence-nominal warning far 140 140.2 face|clock-fence-moves note far 140.2 machine far 130 machine", ""},
		{"10 off", "near@90", "", at, "", "", "fence: near@90: on the plug, face up, its near edge is at Y100, expected near@100; hint: the plug places the blank; the fence only keeps it from turning"},
		{"left, 1 off", "left@101", "", at, "", "", "fence: left@101: on the plug, face up, its left edge is at X100, expected left@100; hint: the plug places the blank; the fence only keeps it from turning"},
		{"back 10 off", "near@100", "far@140", at, "", "", "back-fence: far@140: on the plug, back up, its far edge is at Y130, expected far@130; hint: the plug places the blank; the fence only keeps it from turning"},
		{"nominal, not measured", "far@140", "", at, "60x41x8", "clock-fence-nominal warning far 140 141 face|clock-fence-moves warning far 141 machine far 130 machine", ""},
		{"neither nominal nor measured", "far@139", "", at, "60x41x8", "", "fence: far@139: on the plug, face up, its far edge is at Y141, expected far@141; hint: the plug places the blank; the fence only keeps it from turning"},
		{"nothing to compare with", "near@100", "", nil, "", "", "fence: near@100 is a machine coordinate, but where the plug stands isn't known, expected the face zero too, as ‹at X,Y›, or the side alone"},
		{"nothing to compare the back's with", "near", "far@130", nil, "", "", "back-fence: far@130 is a machine coordinate, but where the plug stands isn't known, expected the plug's place for the back too, as ‹plug-at X,Y› or by ‹at X,Y›, or the side alone"},
	}
	for _, test := range tests {
		bore, _ := ParseBore("20,15,12", 0)
		q := Question{Stock: &Blank{d("60"), d("40"), d("8")}, Flip: FlipX, Register: Plug, Bore: &bore, At: test.at, Clock: Clocking{Kind: ClockFence}}
		q.Fence, _ = ParseContact(test.fence, 0)
		if test.back != "" {
			q.BackFence, _ = ParseContact(test.back, 0)
		}
		if test.measured != "" {
			m, _ := ParseSize(test.measured, 0)
			q.Measured = &m
		}
		a, err := Solve(q)
		if err != nil {
			if err.Error() != test.want {
				t.Errorf("%s: %v\nwant %s", test.name, err, test.want)
			}
			continue
		}
		var got []string
		for _, f := range a.Facts {
			if f.Code() == "clock-fence-moves" || f.Code() == "clock-fence-nominal" {
				got = append(got, strings.Join(append([]string{f.Code(), f.Level}, fact.Values(f.Is)...), " "))
			}
		}
		if s := strings.Join(got, "|"); s != test.facts || test.want != "" {
			t.Errorf("%s: %q, want %q, error %q", test.name, s, test.facts, test.want)
		}
	}
}

// Two pins with 0.024 of clearance (H7/g6 at most, 4 to 6 mm, ISO 286) at 100:
// 2.400e-4 rad = 0.013751 degrees, and 0.048 at 150 past the pin (derived).
func TestOnPlug(t *testing.T) {
	play := ptr("0.024")
	strip := Blank{d("250"), d("0.0001"), d("10")}
	turn := OnPlug(strip, Point{}, &Point{X: d("100")}, play, play)
	if turn.AtRim.String() != "0.048" || turn.Degrees.String() != "0.0138" || turn.Shift.String() != "0.012" || turn.Rim.String() != "250" {
		t.Errorf("at the rim %s, %s degrees, shift %s, rim %s", turn.AtRim, turn.Degrees, turn.Shift, turn.Rim)
	}
	// Without clocking: one degree at radius r moves the rim by r pi/180.
	free := OnPlug(Blank{d("60"), d("80"), d("10")}, Point{d("30"), d("40")}, nil, play, nil)
	if !free.Free || free.Rim.String() != "50" || free.PerDegree.String() != "0.8727" || free.AtRim != nil {
		t.Errorf("free %v, rim %s, per degree %s, at the rim %s", free.Free, free.Rim, free.PerDegree, free.AtRim)
	}
	if none := OnPlug(strip, Point{}, &Point{}, play, play); none.AtRim != nil {
		t.Errorf("a index pin in the middle of the bore: %s", none.AtRim)
	}
	// A press fit has no play to give.
	tight := OnPlug(strip, Point{}, &Point{X: d("100")}, ptr("-0.008"), ptr("0"))
	if !tight.AtRim.IsZero() {
		t.Errorf("a press fit moves %s at the rim", tight.AtRim)
	}
}

// The bound holds for every way in which the blank can lie, and some way comes
// near it: the bore's centre anywhere in its clearance, the blank turned by any
// angle that leaves the pin's hole within its own.
func TestOnPlugBoundsContacts(t *testing.T) {
	b := Blank{d("120"), d("80"), d("12")}
	bore, clock := Point{d("40"), d("40")}, Point{d("100"), d("40")}
	c1, c2, spacing := 0.12, 0.08, 60.0
	turn := OnPlug(b, bore, &clock, ptr("0.12"), ptr("0.08"))
	bound, greatest := f(*turn.AtRim), 0.0
	const steps = 90
	for i := range steps {
		p := 2 * math.Pi * float64(i) / steps
		dx, dy := c1/2*math.Cos(p), c1/2*math.Sin(p)
		for j := -steps; j <= steps; j++ {
			angle := (c1 + c2) / 2 / spacing * float64(j) / steps
			move := func(x, y float64) float64 {
				x, y = x-40, y-40
				return math.Hypot(dx+x*(math.Cos(angle)-1)-y*math.Sin(angle), dy+x*math.Sin(angle)+y*(math.Cos(angle)-1))
			}
			if move(100, 40) > c2/2 {
				continue
			}
			greatest = max(greatest, move(0, 0), move(120, 0), move(0, 80), move(120, 80))
		}
	}
	if greatest > bound || greatest < 0.9*bound {
		t.Errorf("the contacts allow %g, the bound is %g", greatest, bound)
	}
}

func TestPlugFacts(t *testing.T) {
	q := bobbin()
	q.PlugD, q.Hole = ptr("21.5"), holes("5.5")
	a, err := Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	if v := facts(a, "plug-loose"); len(v) != 1 || v[0] != "0.5" {
		t.Errorf("plug loose: %v", v)
	}
	// c1 = c2 = 0.5 at 25. The near corners are hypot(35, 35) = 49.4975 from the
	// bore and hypot(35, 60) = 69.4622 from the pin: 0.5 x 118.9597 / 50 = 1.189597.
	if a.Turn.AtRim.String() != "1.1896" {
		t.Errorf("at the rim %s", a.Turn.AtRim)
	}
	if v := facts(a, "clocking-loose"); len(v) != 1 || v[0] != "1.1896" {
		t.Errorf("clocking loose: %v", v)
	}
	// H7/g6 at 22: H7 +21/0, g6 -7/-20, so 41 um at most; at 5: H7 +12/0, g6
	// -4/-12, so 24 um (ISO 286).
	q.PlugD, q.Hole, q.Fit = nil, nil, "H7/g6"
	q.Clock.Hole = decimal.Decimal{}
	if a, err = Solve(q); err != nil {
		t.Fatal(err)
	}
	byFit := OnPlug(*q.Stock, q.Bore.At, &q.Clock.Pin, ptr("0.041"), ptr("0.024"))
	if !a.Turn.AtRim.Equal(*byFit.AtRim) || a.Turn.Shift.String() != "0.0205" {
		t.Errorf("by the fit %s at the rim, shift %s", a.Turn.AtRim, a.Turn.Shift)
	}
	q.Clock, q.Round, q.Fit = Clocking{}, true, ""
	if a, err = Solve(q); err != nil || facts(a, "round") == nil || !a.Turn.Free || a.Turn.Shift != nil {
		t.Errorf("round: %+v, %v", a.Turn, err)
	}
	// A disc of 70 about its bore: the rim is 35 off all round, and moves 35 pi / 180.
	if !a.Turn.Round || a.Turn.Rim.String() != "35" || a.Turn.PerDegree.String() != "0.6109" {
		t.Errorf("round: rim %s, %s a degree", a.Turn.Rim, a.Turn.PerDegree)
	}
	q.PlugD = ptr("22")
	if a, err = Solve(q); err != nil || fmt.Sprint(facts(a, "plug-tight")) != "[22]" {
		t.Errorf("a plug as wide as the bore: %v, %v", facts(a, "plug-tight"), err)
	}
	q.Clock = Clocking{Kind: ClockFlat, Side: Near}
	if a, err = Solve(q); err != nil || a.Turn.Free || facts(a, "turn-unknown") == nil {
		t.Errorf("flat: %+v, %v", a.Turn, err)
	}
}

func TestUp(t *testing.T) {
	for _, test := range []struct {
		v    float64
		want string
	}{{0.1 + 0.2, "0.3"}, {0.00001, "0.0001"}, {1.00011, "1.0002"}, {0, "0"}} {
		if got := up(test.v); !got.Equal(decimal.RequireFromString(test.want)) {
			t.Errorf("up(%g) = %s, want %s", test.v, got, test.want)
		}
	}
}

// A D-shaped plug in a D-shaped bore, by hand: cut two pieces of paper. The box is
// turned in space by rotation matrices, which know nothing of sides.
func TestFlatOfThePlug(t *testing.T) {
	sides := map[Side]vec{Near: {0, -1, 0}, Far: {0, 1, 0}, Left: {-1, 0, 0}, Right: {1, 0, 0}}
	for flip, about := range map[Flip]vec{FlipX: {1, -1, -1}, FlipY: {-1, 1, -1}} { // half a turn about X, about Y
		for side, to := range sides {
			for _, second := range []bool{false, true} {
				q := bobbin()
				q.Flip, q.Clock = flip, Clocking{Kind: ClockFlat, Side: side}
				if second {
					q.PlugAt = &Point{d("400"), d("250")}
				}
				lies := func(turn vec) vec { return vec{to[0] * turn[0], to[1] * turn[1], 0} }
				back := lies(about)
				a, err := Solve(q)
				if goes := second || back == to; !goes {
					if e, ok := err.(*Error); !ok || !e.No {
						t.Errorf("flip %s, flat %s: %v", flip, side, err)
					}
					continue
				}
				if err != nil {
					t.Errorf("flip %s, flat %s: %v", flip, side, err)
					continue
				}
				poses := map[string]vec{LayAsIs: {1, 1, 1}, LayFlipX: {1, -1, -1}, LayFlipY: {-1, 1, -1}, LayTurned: {-1, -1, 1}}
				foolproof := true
				for _, l := range a.LayUps {
					fits := lies(poses[l.Name]) == back
					if l.Fits != fits {
						t.Errorf("flip %s, flat %s, %s: fits %v", flip, side, l.Name, l.Fits)
					}
					if fits && !l.Wanted && l.Name != LayAsIs {
						foolproof = false
					}
				}
				if a.Foolproof != foolproof || len(a.LayUps) != 4 {
					t.Errorf("flip %s, flat %s: foolproof %v", flip, side, a.Foolproof)
				}
			}
		}
	}
	q := bobbin()
	q.Clock = Clocking{Kind: ClockFlat}
	if _, err := Solve(q); err == nil || !strings.Contains(err.Error(), "expected flat=near, flat=far, flat=left or flat=right") {
		t.Errorf("a flat anywhere: %v", err)
	}
}
