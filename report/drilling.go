package report

import (
	"flipcalc/mirror/transform"
)

// drillingBlocks show each hole of the drilling programs.
func drillingBlocks(programs []Drilling, unit transform.Unit) []Block {
	if len(programs) == 0 {
		return nil
	}
	t := Table{Caption: "Drilling programs, " + unit.String() + ", each from its own zero", Head: []string{"File", "Offset", "Dowel", "X", "Y", "From Z", "To Z", "Drill"},
		Right: []int{2, 3, 4, 5, 6}}
	for _, p := range programs {
		for i, h := range p.Holes {
			name, offset := p.Name, p.Offset
			if i > 0 {
				name, offset = "", ""
			}
			drill := h.Dia.String()
			if h.Tool != nil {
				drill = "T" + itoa(*h.Tool) + ", " + drill
			}
			t.Rows = append(t.Rows, []string{name, offset, itoa(h.Pin), h.X.String(), h.Y.String(), h.From.String(), h.Bottom.String(), drill})
		}
	}
	return []Block{t}
}
