package proof

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"flipcalc/mirror/motion"
	"flipcalc/mirror/transform"
)

// mutants gives texts that differ from a right output in one word: its sign
// flipped, its number changed, its letter changed, its code taken for another, the
// word dropped; or in one line: dropped, doubled.
func mutants(t testing.TB, text string) (out []mutant) {
	t.Helper()
	lines := strings.SplitAfter(text, "\n")
	at := 0
	put := func(i int, line, what string) {
		if line != lines[i] {
			out = append(out, mutant{at, len(lines[i]), line, i + 1, what})
		}
	}
	var b motion.Block
	for i, line := range lines {
		if i > 0 {
			at += len(lines[i-1])
		}
		if err := b.Read([]byte(line), i+1); err != nil {
			break // text after the end
		}
		if len(b.Words) == 0 {
			continue
		}
		put(i, "", "dropped")
		put(i, line+line, "doubled")
		for _, w := range b.Words {
			head, letter, number, tail := line[:w.Start], line[w.Start:w.Start+1], line[w.Number:w.End], line[w.End:]
			put(i, head+strings.TrimLeft(tail, " "), "word dropped")
			put(i, head+letter+flipSign(number)+tail, "sign flipped")
			for k, c := range number {
				if c >= '0' && c <= '9' {
					put(i, head+letter+number[:k]+string('0'+(c-'0'+1)%10)+number[k+1:]+tail, "digit changed")
				}
			}
			if w.Plain && strings.Contains(number, ".") {
				put(i, head+letter+strings.Replace(number, ".", "", 1)+tail, "point dropped")
			} else if w.Plain {
				put(i, head+letter+number+"5"+tail, "digit added")
				put(i, head+letter+number+".5"+tail, "half added")
			}
			for _, other := range neighbours[strings.ToUpper(letter)] {
				put(i, head+string(other)+number+tail, "letter changed")
			}
			if letter == "G" || letter == "g" {
				for _, code := range codes {
					put(i, head+letter+code+tail, "code changed")
				}
			}
			if letter == "M" || letter == "m" {
				for _, code := range []string{"0", "1", "2", "3", "4", "5", "6", "7", "8", "9", "30"} {
					put(i, head+letter+code+tail, "code changed")
				}
			}
		}
	}
	return out
}

// mutant is a text with one line changed.
type mutant struct {
	at, n  int // the line's place in the right text
	line   string
	number int
	what   string
}

// in gives the whole text.
func (m *mutant) in(text string) string { return text[:m.at] + m.line + text[m.at+m.n:] }

func (m *mutant) String() string {
	return fmt.Sprintf("line %d, %s: %q", m.number, m.what, strings.TrimSpace(m.line))
}

var neighbours = map[string]string{"X": "YZIR", "Y": "XZJ", "Z": "XYKR", "I": "JKXR", "J": "IK", "K": "IJ", "R": "XZIQ", "F": "SP", "Q": "PL", "P": "QL"}

var codes = []string{"0", "1", "2", "3", "4", "17", "18", "19", "20", "21", "28", "40", "41", "42", "43", "49", "52", "53", "54", "55", "56",
	"61", "64", "80", "81", "82", "83", "85", "89", "90", "91", "90.1", "91.1", "92", "92.1", "93", "94", "98", "99"}

func flipSign(number string) string {
	switch {
	case strings.HasPrefix(number, "-"):
		return number[1:]
	case strings.HasPrefix(number, "+"):
		return "-" + number[1:]
	}
	return "-" + number
}

// trace writes all that a program does, for telling whether a mutant moves alike.
func trace(text string, o Options) string {
	var b strings.Builder
	_, err := motion.Walk(strings.NewReader(text), motion.Options{Unit: o.Unit, AbsoluteCentres: o.AbsoluteCentres, Extended: true}, func(m *motion.Move) error {
		fmt.Fprintf(&b, "%s %s %s\n", describeMove(m), transform.OffsetName(m.State.Offset), settings(&m.State))
		return nil
	})
	fmt.Fprint(&b, err)
	return b.String()
}

// TestMutants changes right outputs in one word or line at a time: whatever moves
// otherwise must be caught, on the short way and on the long one.
func TestMutants(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	made, caught, alike := 0, 0, 0
	tests := append(slices.Clone(right), reversed...)
	for name, f := range map[string]func(int) ([]byte, []byte){"plain": plainPair, "mixed": mixedPair} {
		in, out := f(600)
		tests = append(tests, pairTest{name, flipY("120"), string(in), string(out)})
	}
	for _, tt := range tests {
		if _, err := check(tt.in, tt.out, tt.o); err != nil {
			t.Errorf("%s: the right output isn't right: %v", tt.name, err)
			continue
		}
		was := ""
		for _, m := range mutants(t, tt.out) {
			made++
			text := m.in(tt.out)
			_, err := checkBy(tt.in, text, tt.o, false)
			_, slow := checkBy(tt.in, text, tt.o, true)
			if fmt.Sprint(err) != fmt.Sprint(slow) {
				t.Errorf("%s: %s: the short way says %v, the long way %v", tt.name, m.String(), err, slow)
			}
			if err != nil {
				caught++
				continue
			}
			if was == "" {
				was = trace(tt.out, tt.o)
			}
			if now := trace(text, tt.o); now != was {
				t.Errorf("%s: %s: not caught", tt.name, m.String())
				continue
			}
			alike++
		}
	}
	t.Logf("%d mutants: %d caught, %d move alike (such as -0 for 0), %d missed: kill rate %.2f %%",
		made, caught, alike, made-caught-alike, 100*float64(caught)/float64(made-alike))
	if made < 3000 {
		t.Errorf("only %d mutants", made)
	}
}

// check proves texts in memory.
func check(in, out string, o Options) (*Result, error) { return checkBy(in, out, o, false) }

// checkBy is check with or without the short way.
func checkBy(in, out string, o Options, slow bool) (*Result, error) {
	c := Start(o)
	defer c.Abandon()
	c.p.slow = slow
	if err := c.Feed([]byte(in), []byte(out)); err != nil {
		return nil, err
	}
	return c.Finish()
}
