package report

// A Section is one heading of the sheet with what stands under it. All
// renderers work from the same sections, so that they say the same.
type Section struct {
	ID     string
	Title  string
	Blocks []Block
}

// A Block is one of the kinds below.
type Block interface{ block() }

// Para is a paragraph; Level, if set, is "note", "warning" or "caution" and is
// always written out as a word.
type Para struct{ Level, Text string }

// Pairs is a list of names and values.
type Pairs struct{ Rows [][2]string }

// Table is a table with a head. Right lists the columns that hold numbers.
type Table struct {
	Caption string
	Head    []string
	Rows    [][]string
	Right   []int
	Why     bool // only with the reasons
}

// Bullets is a list without order.
type Bullets struct{ Items []string }

// Code is text to be kept byte for byte.
type Code struct{ Lines []string }

// Checks is a run of steps to be ticked off under one phase.
type Checks struct {
	Phase string
	First int // number of the first step
	Steps []Step
}

// Figure is a drawing; only renderers that can draw show it, others show Desc.
type Figure struct {
	ID, Title, Desc string
	SVG             string
	Slim            string // the same for a narrow screen, if it isn't readable there
}

// onlyDrawings says that a section has nothing to read.
func onlyDrawings(sec Section) bool {
	for _, b := range sec.Blocks {
		if _, drawing := b.(Figure); !drawing {
			return false
		}
	}
	return true
}

func (Para) block()    {}
func (Pairs) block()   {}
func (Table) block()   {}
func (Bullets) block() {}
func (Code) block()    {}
func (Checks) block()  {}
func (Figure) block()  {}
