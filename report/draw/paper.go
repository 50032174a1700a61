package draw

import "flipcalc/mirror/transform"

// paper is a sheet by its name and its two sides in mm, the shorter first.
type paper struct {
	name        string
	short, long float64
}

// papers are the sheets that a print at full size may need, the smallest first: ISO 216,
// and where lengths are inches Letter, Ledger and the US engineering sizes C to E (values
// from memory).
var papers = map[transform.Unit][]paper{
	transform.MM: {{"A4", 210, 297}, {"A3", 297, 420}, {"A2", 420, 594}, {"A1", 594, 841}, {"A0", 841, 1189}},
	transform.Inch: {{"Letter", 215.9, 279.4}, {"11 x 17 in", 279.4, 431.8}, {"17 x 22 in", 431.8, 558.8},
		{"22 x 34 in", 558.8, 863.6}, {"34 x 44 in", 863.6, 1117.6}},
}

// unprinted is the edge that most printers leave bare, in mm (common practice).
const unprinted = 5

// holds reports whether what is w by h mm can be printed on the sheet, upright or not.
func (p paper) holds(w, h float64) bool {
	return min(w, h) <= p.short-2*unprinted && max(w, h) <= p.long-2*unprinted
}
