package report

import "flipcalc/registration"

// OneLine is the shortest answer, for a shell: the offset with its zero, or without
// a register the transform. Values are separated by blanks; nothing else is
// said but that a place is measured from the face zero, where it is.
func OneLine(a *registration.Answer) string {
	z := a.Second
	if z == nil {
		return a.Transform.String()
	}
	if z.Machine {
		return z.Offset + " " + xyz(z.X, z.Y, z.Z)
	}
	return z.Offset + " " + xyz(z.X, z.Y, z.Z) + " from the face zero"
}
