package report

// Alone is one drawing as a file of its own.
type Alone struct {
	Name string // what the file's name ends in: "", "turn", "face", "back", "web" or "overlay"
	What string // what it shows
	SVG  string // "" where the setup has nothing to draw
}

// DrawingsAlone gives every drawing of the sheet on its own, the bed first. A web can be
// drawn only where check ran.
func DrawingsAlone(s Setup) []Alone {
	return []Alone{
		{"", "the bed", BedDrawing(s)},
		{"turn", "the turn in three steps", TurnDrawing(s)},
		{"face", "the face with its tool paths", SideDrawing(s, false)},
		{"back", "the back with its tool paths", SideDrawing(s, true)},
		{"web", "face, back and the web left between them", webDrawing(s)},
		{"overlay", "both sides at full size, to print and lay on the blank", OverlayDrawing(s)},
	}
}
