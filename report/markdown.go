package report

import (
	"bytes"
	"fmt"
	"io"
	"strings"
)

// Markdown writes the setup as a Markdown document with tables and task lists.
func Markdown(w io.Writer, s Setup) error {
	var b bytes.Buffer
	b.WriteString("# " + mark(s.Name()) + "\n")
	if s.Title != "" && s.Job != "" {
		b.WriteString("\nJob: " + mark(s.Job) + "\n")
	}
	for _, sec := range s.Sections() {
		if onlyDrawings(sec) {
			continue
		}
		b.WriteString("\n## " + mark(sec.Title) + "\n")
		for _, bl := range sec.Blocks {
			if err := markdownBlock(&b, bl); err != nil {
				return err
			}
		}
	}
	_, err := w.Write(b.Bytes())
	return err
}

func markdownBlock(b *bytes.Buffer, bl Block) error {
	switch bl := bl.(type) {
	case Para:
		b.WriteString("\n")
		if bl.Level != "" {
			b.WriteString("**" + capital(bl.Level) + ":** ")
		}
		b.WriteString(mark(bl.Text) + "\n")
	case Pairs:
		b.WriteString("\n| | |\n|---|---|\n")
		for _, r := range bl.Rows {
			b.WriteString("| **" + cell(r[0]) + "** | " + cell(r[1]) + " |\n")
		}
	case Table:
		if bl.Caption != "" {
			b.WriteString("\n" + mark(bl.Caption) + ":\n")
		}
		b.WriteString("\n|")
		for _, h := range bl.Head {
			b.WriteString(" " + cell(h) + " |")
		}
		b.WriteString("\n|")
		for i := range bl.Head {
			if contains(bl.Right, i) {
				b.WriteString("---:|")
			} else {
				b.WriteString("---|")
			}
		}
		b.WriteString("\n")
		for _, row := range bl.Rows {
			b.WriteString("|")
			for i := range bl.Head {
				text := ""
				if i < len(row) {
					text = cell(row[i])
				}
				b.WriteString(" " + text + " |")
			}
			b.WriteString("\n")
		}
	case Bullets:
		b.WriteString("\n")
		for _, it := range bl.Items {
			b.WriteString("- " + mark(it) + "\n")
		}
	case Code:
		fence := "```"
		for _, l := range bl.Lines {
			for strings.Contains(l, fence) {
				fence += "`"
			}
		}
		b.WriteString("\n" + fence + "\n")
		for _, l := range bl.Lines {
			b.WriteString(plain(l) + "\n")
		}
		b.WriteString(fence + "\n")
	case Checks:
		b.WriteString("\n### " + mark(bl.Phase) + "\n\n")
		for i, st := range bl.Steps {
			fmt.Fprintf(b, "- [ ] %d. %s\n", bl.First+i, mark(st.Text))
			for _, wr := range st.Write {
				b.WriteString("  - " + mark(wr) + ": \\_\\_\\_\\_\\_\\_\n")
			}
			for _, c := range st.Cautions {
				b.WriteString("  - **Caution:** " + mark(c.Text) + "\n")
			}
		}
	case Figure:
	default:
		return fmt.Errorf("report: unknown block %T", bl)
	}
	return nil
}

func contains(a []int, v int) bool {
	for _, x := range a {
		if x == v {
			return true
		}
	}
	return false
}

// markEscapes are the characters that Markdown would take as its own (CommonMark
// 0.31, 2.4: any ASCII punctuation may be escaped).
var markEscapes = strings.NewReplacer(
	`\`, `\\`, "`", "\\`", `*`, `\*`, `_`, `\_`, `[`, `\[`, `]`, `\]`, `<`, `\<`, `>`, `\>`, `|`, `\|`, `#`, `\#`, `~`, `\~`, `&`, `\&`)

// mark writes text so that Markdown shows it as it is.
func mark(s string) string { return markEscapes.Replace(plain(s)) }

// cell is mark for a table's cell; the pipe is escaped by mark too.
func cell(s string) string { return mark(s) }
