package report

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"github.com/olekukonko/tablewriter"
	"github.com/olekukonko/tablewriter/pkg/twwidth"
	"github.com/olekukonko/tablewriter/renderer"
	"github.com/olekukonko/tablewriter/tw"

	"flipcalc/report/letters"
	"flipcalc/report/words"
)

// Options says what a terminal can show.
type Options struct {
	Width int  // columns; 0 means 80, fewer than 40 means 40
	ASCII bool // nothing outside ASCII
	Why   bool // reasons and assumptions too
	Color bool // bold headings and coloured levels; words carry the meaning anyway
}

// Terminal writes the setup as text and tables. It renders into memory and makes
// one write, so that a failed write is reported and never hidden.
func Terminal(w io.Writer, s Setup, o Options) error {
	if o.Width == 0 {
		o.Width = 80
	}
	t := &terminal{Options: o, width: max(o.Width, 40)}
	name := s.Name()
	if s.Title != "" && s.Job != "" {
		name += " (" + s.Job + ")"
	}
	if s.Checklist && o.Why {
		t.heading(name, "=")
	}
	sections, reasons := s.text(), 0
	if !o.Why {
		sections, reasons = s.Brief()
	}
	for i, sec := range sections {
		if onlyDrawings(sec) {
			continue
		}
		if err := t.section(sec, i > 0 || s.Checklist && o.Why); err != nil {
			return err
		}
	}
	if reasons > 0 {
		t.line("")
		t.line(words.Reasons(reasons))
	}
	out := t.buf.Bytes()
	if o.ASCII {
		out = []byte(ascii(string(out)))
	}
	_, err := w.Write(out)
	return err
}

type terminal struct {
	Options
	width int
	buf   bytes.Buffer
}

func (t *terminal) heading(text, rule string) {
	lines := wrap(text, t.width)
	widest := 0
	for _, l := range lines {
		widest = max(widest, twwidth.Width(l))
		t.line(t.paint("1", l))
	}
	t.line(strings.Repeat(rule, widest))
}

func (t *terminal) line(s string) {
	t.buf.WriteString(strings.TrimRight(s, " "))
	t.buf.WriteByte('\n')
}

// paint wraps text in an SGR sequence (ECMA-48, 8.3.117).
func (t *terminal) paint(code, text string) string {
	if !t.Color {
		return text
	}
	return "\x1b[" + code + "m" + text + "\x1b[0m"
}

func (t *terminal) section(sec Section, titled bool) error {
	if titled {
		if t.buf.Len() > 0 {
			t.line("")
		}
		t.heading(sec.Title, "-")
	}
	var before Block
	for _, b := range sec.Blocks {
		if _, drawing := b.(Figure); drawing {
			continue
		}
		if before != nil {
			_, para := b.(Para)
			if _, also := before.(Para); !para || !also {
				t.line("")
			}
		}
		before = b
		if err := t.block(b); err != nil {
			return err
		}
	}
	return nil
}

func (t *terminal) block(b Block) error {
	switch b := b.(type) {
	case Para:
		t.para(b)
	case Pairs:
		t.pairs(b)
	case Table:
		return t.table(b)
	case Bullets:
		for _, it := range b.Items {
			t.hang("- ", "  ", it)
		}
	case Code:
		for _, l := range b.Lines {
			t.line("  " + letters.Plain(l))
		}
	case Checks:
		t.line(t.paint("1", b.Phase))
		for i, st := range b.Steps {
			lead := fmt.Sprintf("[ ] %2d. ", b.First+i)
			t.hang(lead, strings.Repeat(" ", len(lead)), st.Text)
			if len(st.Write) > 0 {
				var blanks []string
				for _, wr := range st.Write {
					blanks = append(blanks, wr+": _______")
				}
				t.hang(strings.Repeat(" ", len(lead)), strings.Repeat(" ", len(lead)), strings.Join(blanks, "  "))
			}
			for _, c := range st.Cautions {
				t.hang(strings.Repeat(" ", len(lead))+"! ", strings.Repeat(" ", len(lead)+2), c.Text)
			}
		}
	default:
		return fmt.Errorf("report: unknown block %T", b)
	}
	return nil
}

func (t *terminal) para(p Para) {
	text := labelled(p)
	lines := wrap(text, t.width)
	code := map[string]string{"warning": "1;33", "caution": "1;33", "finding": "1;31"}[p.Level]
	for i, l := range lines {
		if i == 0 && code != "" {
			label := capital(p.Level) + ":"
			l = t.paint(code, label) + strings.TrimPrefix(l, label)
		}
		t.line(l)
	}
}

// hang writes text with a lead on its first line and an indent on the others.
func (t *terminal) hang(lead, indent, text string) {
	for _, l := range wrap(text, t.width-twwidth.Width(lead)) {
		t.line(lead + l)
		lead = indent
	}
}

func (t *terminal) pairs(p Pairs) {
	name := 0
	for _, r := range p.Rows {
		name = max(name, twwidth.Width(r[0]))
	}
	name = min(name, t.width*2/5)
	for _, r := range p.Rows {
		lead := r[0]
		if twwidth.Width(lead) > name { // a line of its own
			for _, l := range wrap(lead, t.width) {
				t.line(t.paint("1", l))
			}
			lead = ""
		}
		for i, l := range wrap(r[1], t.width-name-2) {
			if i > 0 {
				lead = ""
			}
			pad := strings.Repeat(" ", max(0, name-twwidth.Width(lead)))
			t.line(t.paint("1", lead) + pad + "  " + l)
		}
	}
}

func (t *terminal) table(b Table) error {
	if b.Caption != "" {
		t.hang("", "", b.Caption)
	}
	n := len(b.Head)
	cells := append([][]string{b.Head}, b.Rows...)
	widths := columnWidths(cells, n, t.width-(3*n+1))
	for r, row := range cells {
		fit := make([]string, n)
		for i := range n {
			text := ""
			if i < len(row) {
				text = row[i]
			}
			lines := wrap(text, widths[i])
			if r == 0 { // the header keeps its place when a cell is empty
				for len(lines) == 0 {
					lines = []string{" "}
				}
			}
			fit[i] = strings.Join(lines, "\n")
		}
		cells[r] = fit
	}
	align := make([]tw.Align, n)
	for i := range align {
		align[i] = tw.AlignLeft
	}
	for _, i := range b.Right {
		align[i] = tw.AlignRight
	}
	style := tw.StyleLight
	if t.ASCII {
		style = tw.StyleASCII
	}
	var buf bytes.Buffer
	table := tablewriter.NewTable(&buf,
		tablewriter.WithRenderer(renderer.NewBlueprint(tw.Rendition{Symbols: tw.NewSymbols(style)})),
		tablewriter.WithHeaderAutoFormat(tw.Off),
		tablewriter.WithHeaderAutoWrap(tw.WrapNone),
		tablewriter.WithRowAutoWrap(tw.WrapNone),
		tablewriter.WithHeaderAlignmentConfig(tw.CellAlignment{PerColumn: align}),
		tablewriter.WithRowAlignmentConfig(tw.CellAlignment{PerColumn: align}),
	)
	table.Header(cells[0])
	for _, row := range cells[1:] {
		if err := table.Append(row); err != nil {
			return err
		}
	}
	if err := table.Render(); err != nil {
		return err
	}
	t.buf.Write(buf.Bytes())
	return nil
}

// columnWidths shares room among n columns. Each gets at least its longest word,
// if all of them fit; the rest goes to the columns that need more, evenly.
func columnWidths(cells [][]string, n, room int) []int {
	room = max(room, n)
	need, least := make([]int, n), make([]int, n)
	for _, row := range cells {
		for i := 0; i < n && i < len(row); i++ {
			need[i] = max(need[i], twwidth.Width(row[i]), 1)
			least[i] = max(least[i], 1)
			for word := range strings.FieldsSeq(row[i]) {
				least[i] = max(least[i], twwidth.Width(word))
			}
		}
	}
	sum := 0
	for _, w := range least {
		sum += w
	}
	if sum > room { // some words must break: the longest ones
		for sum > room {
			widest := 0
			for i := range least {
				if least[i] > least[widest] {
					widest = i
				}
			}
			least[widest]--
			sum--
		}
		return least
	}
	widths := least
	for left := room - sum; left > 0; {
		grown := false
		for i := range widths {
			if left > 0 && widths[i] < need[i] {
				widths[i]++
				left--
				grown = true
			}
		}
		if !grown {
			break
		}
	}
	return widths
}

// wrap breaks text into lines no wider than width, at blanks where it can.
func wrap(text string, width int) []string {
	width = max(width, 1)
	var lines []string
	line, lineWidth := "", 0
	for word := range strings.FieldsSeq(letters.Plain(text)) {
		w := twwidth.Width(word)
		if line != "" && lineWidth+1+w > width {
			lines = append(lines, line)
			line, lineWidth = "", 0
		}
		for w > width {
			head := fits(word, width)
			lines = append(lines, head)
			word = word[len(head):]
			w = twwidth.Width(word)
		}
		if line == "" {
			line, lineWidth = word, w
		} else {
			line += " " + word
			lineWidth += 1 + w
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// fits gives the longest head of word that is at most width wide, and at least
// one rune.
func fits(word string, width int) string {
	runes := []rune(word)
	end := 1
	for end < len(runes) && twwidth.Width(string(runes[:end+1])) <= width {
		end++
	}
	return string(runes[:end])
}

// standIns are the usual ones of letters that lie outside ASCII.
var standIns = strings.NewReplacer("×", "x", "°", " deg", "–", "-", "—", "-", "−", "-", "’", "'", "‘", "'", "“", `"`, "”", `"`)

// ascii replaces what lies outside ASCII by its stand-in, or "?".
func ascii(s string) string {
	return strings.Map(func(r rune) rune {
		if r < 0x80 {
			return r
		}
		return '?'
	}, standIns.Replace(s))
}
