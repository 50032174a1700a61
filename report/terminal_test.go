package report

import (
	"bytes"
	"errors"
	"os"
	"strings"
	"testing"

	"github.com/olekukonko/tablewriter/pkg/twwidth"

	"flipcalc/registration"
	"flipcalc/report/words"
)

func TestTerminalFitsItsWidth(t *testing.T) {
	for _, width := range []int{40, 60, 80, 132} {
		for _, plainOnly := range []bool{false, true} {
			for name, s := range setups() {
				var b bytes.Buffer
				if err := Terminal(&b, s, Options{Width: width, ASCII: plainOnly}); err != nil {
					t.Fatal(err)
				}
				if err := Terminal(&b, s, Options{Width: width, ASCII: plainOnly, Why: true}); err != nil {
					t.Fatal(err)
				}
				for i, l := range strings.Split(b.String(), "\n") {
					if w := twwidth.Width(l); w > width && !strings.HasPrefix(l, "  ") {
						t.Errorf("%s at %d columns, line %d is %d wide: %s", name, width, i+1, w, l)
					}
					if plainOnly && strings.ContainsFunc(l, func(r rune) bool { return r > 0x7e || r < 0x20 }) {
						t.Errorf("%s, line %d is not plain ASCII: %q", name, i+1, l)
					}
				}
			}
		}
	}
}

func setups() map[string]Setup {
	return map[string]Setup{
		"marker":     markerSetup(),
		"empty":      {},
		"origin":     {Answer: markerAnswer()},
		"same edge":  {Answer: stopAnswer(registration.Right)},
		"other edge": {Answer: stopAnswer(registration.Left), Checklist: true},
	}
}

type brokenWriter struct{ err error }

func (b brokenWriter) Write([]byte) (int, error) { return 0, b.err }

func TestWriteErrorsAreReported(t *testing.T) {
	full := errors.New("no room left")
	s := markerSetup()
	for name, err := range map[string]error{
		"terminal": Terminal(brokenWriter{full}, s, Options{}),
		"json":     JSON(brokenWriter{full}, s),
		"origin":   OriginJSON(brokenWriter{full}, s.Answer),
	} {
		if !errors.Is(err, full) {
			t.Errorf("%s: error %v, want the writer's own", name, err)
		}
	}
}

func TestTouchWords(t *testing.T) {
	same := words.Touch(stopAnswer(registration.Right).Touches[1])
	other := words.Touch(stopAnswer(registration.Left).Touches[1])
	for _, c := range []struct{ text, want string }{
		{same, "the same edge touches both times"},
		{same, "size errors stay out"},
		{other, "size errors enter"},
		{other, "--back-stop right"},
	} {
		if !strings.Contains(c.text, c.want) {
			t.Errorf("%q lacks %q", c.text, c.want)
		}
	}
	if strings.Contains(same, "enters") {
		t.Errorf("same edge: %q", same)
	}
}

func TestColorLeavesTheWords(t *testing.T) {
	var painted, bare bytes.Buffer
	s := markerSetup()
	if err := Terminal(&painted, s, Options{Color: true}); err != nil {
		t.Fatal(err)
	}
	if err := Terminal(&bare, s, Options{}); err != nil {
		t.Fatal(err)
	}
	stripped := painted.String()
	for _, code := range []string{"\x1b[1;33m", "\x1b[1;31m", "\x1b[1m", "\x1b[0m"} {
		stripped = strings.ReplaceAll(stripped, code, "")
	}
	if stripped != bare.String() {
		t.Error("the coloured sheet without its colours isn't the plain sheet")
	}
	if painted.String() == bare.String() {
		t.Error("colour was asked for and none came")
	}
}

func TestControlCharactersDontReachTheTerminal(t *testing.T) {
	s := markerSetup()
	s.Title = "Row \x1b[2Jmarker\u202e\u009b"
	s.Programs[0].Name = "a\rb\x07.nc"
	var b bytes.Buffer
	if err := Terminal(&b, s, Options{}); err != nil {
		t.Fatal(err)
	}
	if strings.ContainsAny(b.String(), "\x1b\r\x07\u202e\u009b") {
		t.Error("a control character came through")
	}
}

func TestShow(t *testing.T) {
	if os.Getenv("REPORT_SHOW") == "" {
		t.Skip("set REPORT_SHOW to a setup's name to look at it")
	}
	if err := Terminal(os.Stdout, setups()[os.Getenv("REPORT_SHOW")], Options{}); err != nil {
		t.Fatal(err)
	}
}
