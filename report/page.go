package report

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"regexp"
	"slices"
	"strings"

	"flipcalc/report/draw"
	"flipcalc/report/letters"
)

// The sheet as a page: page one is seen from a step away, page two holds the steps, and
// the record follows. The page needs nothing else: no network, no script.

//go:embed sheet.html
var sheetHTML string

//go:embed sheet.css
var sheetCSS string

// sheetPage is what the page's template is filled with.
type sheetPage struct {
	Name, Version string
	Style         template.CSS
	One           *pageOne
	Rest          []Para // alarms that have no room on page one
	Steps         *Section
	Record        []Section
}

// HTML writes the setup as one page that prints on A4 and Letter and follows the
// reader's light or dark setting on a screen.
func HTML(w io.Writer, s Setup) error {
	if s.Drawings == nil {
		s.Drawings = &Drawings{}
	}
	p := sheetPage{Name: s.Name(), Style: template.CSS(draw.Style() + sheetCSS)}
	if s.Version != "" {
		p.Version = " " + s.Version
	}
	if s.Checklist {
		p.One, p.Rest = s.pageOne()
	}
	for _, sec := range s.Sections() {
		if sec.ID == "steps" {
			steps := sec
			p.Steps = &steps
			continue
		}
		if p.One != nil { // the turn is drawn there
			sec = sec.without("turn")
		}
		p.Record = append(p.Record, sec)
	}
	var b bytes.Buffer
	if err := sheetTemplate().Execute(&b, p); err != nil {
		return err
	}
	_, err := w.Write(b.Bytes())
	return err
}

// without leaves a figure out of a section.
func (sec Section) without(figure string) Section {
	var blocks []Block
	for _, b := range sec.Blocks {
		if f, ok := b.(Figure); !ok || f.ID != figure {
			blocks = append(blocks, b)
		}
	}
	sec.Blocks = blocks
	return sec
}

// sheetTemplate is the page's template with what it calls.
func sheetTemplate() *template.Template {
	tables := 0
	return template.Must(template.New("sheet").Funcs(template.FuncMap{
		"kind":   func(b Block) string { return strings.TrimPrefix(fmt.Sprintf("%T", b), "report.") },
		"label":  capital,
		"prose":  prose,
		"blanks": func(text string) []string { return strings.Split(text, blank) },
		"svg":    func(s string) template.HTML { return template.HTML(s) }, // made by our own canvas
		"region": func(caption string) string { // a number keeps the names of tables of one caption apart
			tables++
			return fmt.Sprintf("table %d: %s", tables, caption)
		},
		"right": func(t Table, i int) bool { return slices.Contains(t.Right, i) },
		"cell": func(row []string, i int) string {
			if i < len(row) {
				return letters.Plain(row[i])
			}
			return ""
		},
		"short": func(text string) bool { return len(text) <= shortCell },
	}).Parse(sheetHTML))
}

// unbroken are words that a line must not end in: a browser breaks Z-88, beyond and
// back-side.nc behind the minus or the hyphens.
var unbroken = regexp.MustCompile(`\b[\w-]{1,28}\.nc\b|--[a-z][a-z-]*|[A-Za-z]*-[0-9][0-9.]*`)

// prose writes running text.
func prose(text string) template.HTML {
	return template.HTML(unbroken.ReplaceAllString(letters.Escaped(text), `<span class="w">$0</span>`))
}

// shortCell is how many letters a cell may have that stays one line on a telephone, where
// the table slides sideways.
const shortCell = 26
