package cut

// Code names a kind of finding; the words for it belong to report.
type Code string

// The kinds of finding.
const (
	CodeRapid Code = "rapid-in-stock" // a rapid move below the surface of what is still there
	CodeShank Code = "shank-in-stock" // uncut stock beside the cutter above its flutes
)
