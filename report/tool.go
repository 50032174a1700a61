package report

import (
	"slices"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/cut"
	"flipcalc/mirror/transform"
)

// ToolOf lists a cutter with its lengths in unit. They were read from decimals, so
// rounding them to 1e-9 mm gives back what the maker wrote.
func ToolOf(t cut.Tool, unit transform.Unit) Tool {
	length := func(mm float64) decimal.Decimal {
		d, _ := transform.Convert(decimal.NewFromFloat(mm).Round(9), transform.MM, unit, 6)
		return d
	}
	out := Tool{Number: t.Number, Shape: t.Shape.String(), Dia: length(t.Diameter)}
	switch t.Shape {
	case cut.Vee, cut.Drill:
		x := decimal.NewFromFloat(t.Angle)
		out.X = &x
	case cut.Bull:
		x := length(t.Corner)
		out.X = &x
	}
	if t.Flute > 0 {
		f := length(t.Flute)
		out.Flute = &f
	}
	return out
}

func (s *Setup) toolSection() Section {
	sec := Section{ID: "tools", Title: "Tools"}
	if len(s.Tools) == 0 {
		return sec
	}
	t := Table{Caption: "Cutters", Head: []string{"Tool", "Cutter"}}
	flutes := slices.ContainsFunc(s.Tools, func(t Tool) bool { return t.Flute != nil })
	if flutes {
		t.Head, t.Right = append(t.Head, "Flute"), []int{2}
	}
	for _, tool := range s.Tools {
		row := []string{"T" + itoa(tool.Number), toolWords(tool, s.Unit)}
		if flutes {
			flute := ""
			if tool.Flute != nil {
				flute = tool.Flute.String()
			}
			row = append(row, flute)
		}
		t.Rows = append(t.Rows, row)
	}
	sec.Blocks = append(sec.Blocks, t)
	return sec
}

// toolWords says what a cutter is.
func toolWords(t Tool, unit transform.Unit) string {
	s := t.Shape + " " + t.Dia.String() + " " + unit.String()
	if t.X != nil {
		switch t.Shape {
		case "vee":
			s += ", " + t.X.String() + " degrees included"
		case "drill":
			s += ", point of " + t.X.String() + " degrees"
		case "bull":
			s += ", corner radius " + t.X.String() + " " + unit.String()
		}
	}
	return s
}
