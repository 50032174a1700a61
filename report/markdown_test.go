package report

import (
	"bytes"
	"strings"
	"testing"
)

// In a table of GitHub Flavored Markdown (4.10) a pipe inside a cell must be
// escaped, or the row gets a column too many.
func TestMarkdownTablesKeepTheirColumns(t *testing.T) {
	s := markerSetup()
	s.Programs[0].Name = "a|b`c*.nc"
	s.Tools[0].Used = "face|back"
	var b bytes.Buffer
	if err := Markdown(&b, s); err != nil {
		t.Fatal(err)
	}
	columns := 0
	for i, l := range strings.Split(b.String(), "\n") {
		if !strings.HasPrefix(l, "|") {
			columns = 0
			continue
		}
		n := strings.Count(strings.ReplaceAll(l, `\|`, ""), "|")
		if columns != 0 && n != columns {
			t.Errorf("line %d has %d bars, the row before it %d: %s", i+1, n, columns, l)
		}
		columns = n
	}
	if !strings.Contains(b.String(), "a\\|b\\`c\\*.nc") {
		t.Error("the file name isn't escaped")
	}
}

func TestMarkdownHeadingsAreInOrder(t *testing.T) {
	var b bytes.Buffer
	if err := Markdown(&b, markerSetup()); err != nil {
		t.Fatal(err)
	}
	level := 0
	for l := range strings.SplitSeq(b.String(), "\n") {
		if !strings.HasPrefix(l, "#") {
			continue
		}
		n := len(l) - len(strings.TrimLeft(l, "#"))
		if n > level+1 {
			t.Errorf("heading %q skips a level", l)
		}
		level = n
	}
	if level == 0 {
		t.Error("no headings")
	}
}
