package report

import (
	"strconv"
	"strings"
	"testing"

	"flipcalc/registration"
	"flipcalc/report/internal/readback"
	"flipcalc/report/letters"
)

// plugAnswer is a bobbin end of 60 x 60 x 8 on a 12 mm plug, turned about X,
// clocked by a pin or round.
func plugAnswer(t *testing.T, round bool) *registration.Answer {
	t.Helper()
	q := registration.Question{Stock: &registration.Blank{W: d("60"), H: d("60"), T: d("8")}, Flip: registration.FlipX,
		Zero: registration.Zero{Name: "center"}, At: &registration.Position{X: d("200"), Y: d("100"), Z: dp("-40")},
		Register: registration.Plug, Bore: &registration.Pin{At: pt("30", "30"), Dia: d("12")}, PlugD: dp("12"), PlugAt: ptp("400", "100"), Round: round}
	if !round {
		q.Clock = registration.Clocking{Kind: registration.ClockPin, Pin: pt("50", "30"), Dia: d("4"), Hole: d("4.02")}
	}
	a, err := registration.Solve(q)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func text(steps []Step) string {
	var b strings.Builder
	for _, s := range steps {
		b.WriteString(s.Phase + ": " + s.Text + "\n")
		for _, w := range s.Write {
			b.WriteString("  " + w + "\n")
		}
		for _, c := range s.Cautions {
			b.WriteString("  ! " + c.Text + "\n")
		}
	}
	return b.String()
}

func TestStepsFollowTheSetup(t *testing.T) {
	withFeeler := Setup{Answer: markerAnswer(), Checklist: true, Feeler: dp("0.1")}
	for _, c := range []struct {
		name     string
		s        Setup
		has, not []string
	}{
		{"dowels", markerSetup(),
			[]string{"Fit dowel 1, 6 mm dia, at X160 Y60", "Read offsets.nc, then run", "Dowels locate, they do not hold", "feeler, mm", "old values of G54 and G55",
				"Its near-left corner comes to X240.5 Y50 for G55", "Leave tabs", "flipcalc correct --job job.toml --landed DX1,DY1@X1,Y1 --landed DX2,DY2@X2,Y2. By hand", "First cycle", "move the marker from face to back"},
			[]string{"fence", "plug", "Store in the table"}},
		{"feeler", withFeeler, []string{"on the 0.1 mm feeler set Z0.1", "Store G54 X100 Y50 Z-30 and G55 X100 Y50 Z-30 (machine coordinates, mm). Read them back", "old values of G54 and G55", "touch off G54 in Z alone on it", "Run the rest"}, []string{"feeler, mm", "offsets program", "tabs"}},
		{"same edge", Setup{Answer: stopAnswer(registration.Right), Checklist: true},
			[]string{"Set the fence on the near side at Y60 (machine coordinates, mm). Two contacts", "Set the face's stop on the left side at X50 (machine coordinates, mm). One contact.", "Set the back's stop on the right side at X190 (machine coordinates, mm). One contact.",
				"against the fence, then slide it to the stop", "right stop on the edge that was left", "Fence and stop locate, they do not hold"},
			[]string{"Dowels", "pin for hole"}},
		{"round on a plug", Setup{Answer: plugAnswer(t, true), Checklist: true},
			[]string{"Fit the plug, 12 mm dia, at X200 Y100 for G54 and X400 Y100 for G55 (machine coordinates, mm)", "Near edge goes far", "Check: edge A now far"},
			[]string{"index pin", "Fit the pin", "clock it"}},
		{"pin on a plug", Setup{Answer: plugAnswer(t, false), Checklist: true},
			[]string{"Fit the index pin, 4 mm dia, at X220 Y100 for G54 and X420 Y100 for G55 (machine coordinates, mm)", "on the plug, then down over the index pin"}, nil},
		{"guarded", Setup{Answer: markerAnswer(), Checklist: true, Guarded: true}, []string{"only while guarded"}, nil},
	} {
		got := text(c.s.Steps())
		for _, w := range c.has {
			if !strings.Contains(got, w) {
				t.Errorf("%s: no %q in\n%s", c.name, w, got)
			}
		}
		for _, w := range c.not {
			if strings.Contains(got, w) {
				t.Errorf("%s: %q in\n%s", c.name, w, got)
			}
		}
	}
	if s := (&Setup{Answer: markerAnswer()}); len(s.Steps()) != 0 || len(s.Cautions()) != 0 {
		t.Error("a quick answer has a checklist")
	}
}

// The order matters: old values are noted before the offsets program runs, the
// zero is touched off before the dry run, the dry run comes before the cut.
func TestStepsAreInOrder(t *testing.T) {
	s := markerSetup()
	got := text(s.Steps())
	last := -1
	for _, w := range []string{"Note the old values", "Read offsets.nc", "Lay the blank", "Touch off G54", "Dry run the face", "Run the face", "Stop the spindle. Turn", "Touch off G55", "Dry run the back", "Cut the back", "Measure the back's offset at two features", "Correct G55", "Dry run the back with", "Every cycle"} {
		i := strings.Index(got, w)
		if i <= last {
			t.Errorf("%q is missing or comes too early", w)
		}
		last = i
	}
}

// Every caution of a sheet stands in the list, and those of the steps among them.
func TestStepCautionsAreListed(t *testing.T) {
	for name, s := range setups() {
		listed := map[string]bool{}
		for _, c := range s.Cautions() {
			listed[c.Text] = true
			if strings.Contains(c.Text, "%") || c.Text == c.Code {
				t.Errorf("%s: %q has no words", name, c.Code)
			}
		}
		for _, st := range s.Steps() {
			for _, c := range st.Cautions {
				if !listed[c.Text] {
					t.Errorf("%s: a step warns %q, the list doesn't", name, c.Text)
				}
			}
		}
	}
	for _, c := range ProgramCautions() {
		if len(c) < 20 {
			t.Errorf("caution %q", c)
		}
	}
}

// Fence and stop are drawn with their points on the edges that they touch: the
// fence with two contacts, a stop with one.
func TestBedDrawingShowsContacts(t *testing.T) {
	s := Setup{Answer: stopAnswer(registration.Right)}
	contacts := map[string][]string{}
	for _, n := range readback.Nodes(t, bedDrawing(s)) {
		if n.Class == "contact" {
			in := n.Group()
			tip, _, _ := strings.Cut(n.Attr["points"], " ")
			contacts[in["data-name"]+" "+in["data-side"]] = append(contacts[in["data-name"]+" "+in["data-side"]], tip)
		}
	}
	for key, n := range map[string]int{"fence near": 2, "stop left": 1, "stop right": 1} {
		if len(contacts[key]) != n {
			t.Errorf("%s has %d contacts, want %d", key, len(contacts[key]), n)
		}
	}
	for key, want := range map[string]float64{"stop left": 50, "stop right": 190} {
		xs, _, _ := strings.Cut(contacts[key][0], ",")
		if x, _ := strconv.ParseFloat(xs, 64); !near(x, want) {
			t.Errorf("%s touches at X%g, want %g", key, x, want)
		}
	}
}

func TestWrap(t *testing.T) {
	for _, c := range []struct {
		text  string
		width int
		want  string
	}{
		{"a bb ccc", 4, "a bb|ccc"},
		{"abcdefgh ij", 3, "abc|def|gh|ij"},
		{"", 5, ""},
		{"one", 0, "o|n|e"},
		{"日本語の名前", 4, "日本|語の|名前"},
	} {
		if got := strings.Join(wrap(c.text, c.width), "|"); got != c.want {
			t.Errorf("%q in %d columns: %q, want %q", c.text, c.width, got, c.want)
		}
	}
}

func TestPlainFigures(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{letters.Duration(0.0), "unknown"}, {letters.Duration(0.2), "1 s"}, {letters.Duration(89.0), "89 s"}, {letters.Duration(91.0), "2 min"}, {letters.Duration(7261.0), "2 h 2 min"},
		{bytesOf(98), "98 bytes"}, {bytesOf(1234567), "1,234,567 bytes"},
		{letters.Rounded(1.50, 3), "1.5"}, {letters.Rounded(-0.00001, 3), "0"}, {letters.Rounded(1e20, 2), "100000000000000000000"},
		{list(nil), ""}, {list([]string{"a", "b", "c"}), "a, b and c"}, {plural(1, "dowel", "dowels"), "1 dowel"}, {plural(3, "dowel", "dowels"), "3 dowels"},
		{ascii("Ø6 × 2°—é"), "?6 x 2 deg-?"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

// The fit says in words what the clearances mean.
func TestFitWords(t *testing.T) {
	for _, c := range []struct {
		least, most, want string
	}{
		{"0.004", "0.024", "always loose"}, {"-0.012", "0.008", "may be tight or loose"},
		{"-0.03", "-0.01", "always tight"}, {"0", "0", "can be tight"},
	} {
		if got := fitWords(&PinFit{Least: d(c.least), Most: d(c.most)}); !strings.Contains(got, c.want) {
			t.Errorf("%s to %s: %q lacks %q", c.least, c.most, got, c.want)
		}
	}
}

// What check takes for held is done on both sides, since its verdict counts on it.
func TestHeldIsHeld(t *testing.T) {
	s := markerSetup()
	s.Held = []registration.Point{{X: d("60"), Y: d("40")}}
	const at = "Hold it by tape or screws too, from the corner near left, face up: X60 Y40 mm. The check counts on it."
	inOrder(t, "a place", text(s.Steps()), "Lay the blank face up", at, "Seat it back up", "Hold it down: clamps or vacuum.", at)
	s.Held, s.HeldAll = nil, true
	inOrder(t, "all", text(s.Steps()), "Lay the blank face up", "Hold all of it, by vacuum or tape", "Seat it back up", "Hold all of it")
	if strings.Contains(text(s.Steps()), "clamps or vacuum") {
		t.Error("clamps where all is held")
	}
}
