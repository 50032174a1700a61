package report

import (
	"strconv"

	"flipcalc/report/letters"
)

// How places, sizes and lists are written is said in letters; each file here writes them.
var (
	xy      = letters.XY
	xyz     = letters.XYZ
	size    = letters.Size
	bytesOf = letters.Bytes
	plural  = letters.Plural
	list    = letters.List
	itoa    = strconv.Itoa
	capital = letters.Capital
	sideOf  = letters.Side
	word    = letters.Word
)
