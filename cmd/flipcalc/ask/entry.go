package ask

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"flipcalc/registration"
	"flipcalc/registration/bed"
)

// StationEntries gives the entries of a job's stations for the machine file, those that
// aren't in it yet as they are; "" where there are none or no machine file.
func (m *Machine) StationEntries(job string, l *bed.Layout) (string, error) {
	if m.Path == "" || job == "" {
		return "", nil
	}
	text := ""
	for _, s := range l.Stations {
		lengths := []*decimal.Decimal{&s.Zero.X, &s.Zero.Y, &s.Occupied.X, &s.Occupied.Y, &s.Occupied.W, &s.Occupied.H}
		if s.Zero.Z != nil {
			z := *s.Zero.Z
			s.Zero.Z = &z
			lengths = append(lengths, &z)
		}
		if err := convert(l.Unit, m.Unit, lengths...); err != nil {
			return "", registration.About(err, "machine")
		}
		entry := entryText(bed.InUse{Offset: s.Offset, For: fmt.Sprintf("%s, pair %d, %s", job, s.Pair, s.Side), Job: job,
			X: &s.Zero.X, Y: &s.Zero.Y, Z: s.Zero.Z, Rect: &s.Occupied})
		if !slices.ContainsFunc(m.InUse, func(o bed.InUse) bool { return entryText(o) == entry }) {
			text += entry
		}
	}
	if text == "" {
		return "", nil
	}
	return fmt.Sprintf("\nTo keep these offsets for this job, put into %s\nin place of its entries for them:\n%s", filepath.Base(m.Path), text), nil
}

// entryText is an entry of the machine file, as it is written into it.
func entryText(u bed.InUse) string {
	lines := []string{"", "[[offset]]", fmt.Sprintf("name = %q", u.Offset), fmt.Sprintf("for = %q", u.For), fmt.Sprintf("job = %q", u.Job)}
	if u.X != nil && u.Y != nil {
		zero := registration.Position{X: *u.X, Y: *u.Y, Z: u.Z}
		lines = append(lines, "zero = ["+strings.ReplaceAll(zero.String(), ",", ", ")+"]")
	}
	if r := u.Rect; r != nil {
		lines = append(lines, fmt.Sprintf("rectangle = \"%s,%s,%sx%s\"", r.X, r.Y, r.W, r.H))
	}
	return strings.Join(lines, "\n") + "\n"
}
