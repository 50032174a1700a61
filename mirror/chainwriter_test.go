package mirror

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"flipcalc/mirror/block"
	"flipcalc/mirror/motion"
	"flipcalc/mirror/proof"
	"flipcalc/testdata/draws"
)

// mutate visits texts that differ from a program in one word or line: dropped or
// doubled, another sign, digit or letter, another code.
func mutate(text string, visit func(mutant string)) {
	lines := strings.SplitAfter(text, "\n")
	var l block.Lexer
	var b block.Block
	at := 0
	for _, line := range lines {
		head, tail := text[:at], text[at+len(line):]
		at += len(line)
		l.Reset(wholeLine([]byte(line)))
		if l.Next(&b) != nil || b.N == 0 {
			continue
		}
		put := func(changed string) {
			if changed != line {
				visit(head + changed + tail)
			}
		}
		put("")
		put(line + line)
		for _, w := range b.Words() {
			before, letter, number, rest := line[:w.Start], line[w.Start:w.Start+1], line[w.Num:w.End], line[w.End:]
			put(before + strings.TrimLeft(rest, " "))
			put(before + letter + "-" + number + rest)
			put(before + letter + strings.TrimPrefix(number, "-") + rest)
			for i, c := range []byte(number) {
				if c-'0' <= 9 {
					put(before + letter + number[:i] + string('0'+(c-'0'+1)%10) + number[i+1:] + rest)
				}
			}
			others, codes := "", ""
			switch w.Letter {
			case 'G':
				codes = "0 1 2 3 40 41 42 90 91"
			case 'M':
				codes = "3 5 7 8 9"
			case 'X', 'Y', 'Z', 'F':
				others = "XYZF"
			case 'I', 'J', 'R':
				others = "IJR"
			}
			for _, other := range others {
				put(before + string(other) + number + rest)
			}
			for _, code := range strings.Fields(codes) {
				put(before + letter + code + rest)
			}
		}
	}
}

// moves writes all that a program's moves are.
func moves(text string) string {
	var s strings.Builder
	_, err := motion.Walk(strings.NewReader(text), motion.Options{}, func(m *motion.Move) error {
		v := *m
		v.Line = 0
		if f := v.Frame; f != nil {
			v.Frame = nil
			fmt.Fprintf(&s, "%v ", *f)
		}
		fmt.Fprintf(&s, "%v\n", v)
		return nil
	})
	fmt.Fprint(&s, err)
	return s.String()
}

// kills counts changes to programs.
type kills struct{ made, caught, alike int }

// TestReversedMutants: the proof catches every change to a program with reversed chains
// that moves otherwise. Of long programs every n-th change is tried.
func TestReversedMutants(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	var k kills
	for _, c := range reverseRows {
		k.add(t, c.name, reverseStart+c.in+"M30\n")
	}
	names, err := filepath.Glob("../testdata/*/*.nc")
	if err != nil || len(names) == 0 {
		t.Fatal("no programs of the project's own")
	}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		k.add(t, name, string(text))
	}
	k.tell(t)
	if k.made < draws.Of(10_000) {
		t.Errorf("only %d changes", k.made)
	}
	t.Run("strangers", func(t *testing.T) {
		var k kills
		for name, text := range programs(t) {
			k.add(t, name, string(text))
		}
		k.tell(t)
	})
}

func (k *kills) tell(t *testing.T) {
	t.Logf("%d changes: %d caught, %d move alike, %d missed: kill rate %.2f %%",
		k.made, k.caught, k.alike, k.made-k.caught-k.alike, 100*float64(k.caught)/float64(max(1, k.made-k.alike)))
}

// add reverses the cuts of a program and changes the result, where that has reversed
// chains.
func (k *kills) add(t *testing.T, name, in string) {
	t.Helper()
	r := block.NewReader(strings.NewReader(in))
	m, err := newRewriter(r, &Options{Map: flipY("100"), ReverseCuts: true})
	var out bytes.Buffer
	var chains []proof.Chain
	for err == nil {
		var piece []byte
		_, piece, err = m.next(r, nil)
		out.Write(piece)
		for _, c := range m.reversed() {
			chains = append(chains, proof.Chain{First: c.First, Last: c.Last})
		}
	}
	if err != io.EOF || m.report.Reversed == 0 {
		return
	}
	options := m.proofOptions()
	options.Reversed = chains[1:]
	check := func(text string) error {
		c := proof.Start(options)
		defer c.Abandon()
		if err := c.Feed([]byte(in), []byte(text)); err != nil {
			return err
		}
		_, err := c.Finish()
		return err
	}
	if err := check(out.String()); err != nil {
		t.Errorf("%s: the right output isn't right: %v", name, err)
		return
	}
	most := draws.Of(300)
	n := 0
	mutate(out.String(), func(string) { n++ })
	step, was := n/most+1, moves(out.String())
	mutate(out.String(), func(text string) {
		if n++; n%step != 0 {
			return
		}
		k.made++
		switch {
		case check(text) != nil:
			k.caught++
		case moves(text) == was:
			k.alike++
		default:
			t.Errorf("%s: not caught: %s", name, firstDifference(out.String(), text))
		}
	})
}

// firstDifference gives the first lines that differ.
func firstDifference(a, b string) string {
	x, y := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range min(len(x), len(y)) {
		if x[i] != y[i] {
			return fmt.Sprintf("line %d, %q for %q", i+1, y[i], x[i])
		}
	}
	return "their lengths differ"
}
