package bed

import (
	"slices"
	"strconv"
	"strings"
)

// OffsetNames gives the names of the stored work offsets in the order of their P
// numbers, P1 first: six, G54 to G59, and with extended nine, up to G59.3
// (NISTIR 6556, 3.5.13).
func OffsetNames(extended bool) []string {
	names := []string{"G54", "G55", "G56", "G57", "G58", "G59", "G59.1", "G59.2", "G59.3"}
	if !extended {
		return names[:6]
	}
	return names
}

// OffsetNumber gives the P number of an offset's name in G10 L2, 1 for G54 to 9
// for G59.3. ok is false for any other name.
func OffsetNumber(name string) (p int, ok bool) {
	i := slices.Index(OffsetNames(true), name)
	return i + 1, i >= 0
}

// OffsetCode gives ten times the G number of an offset, 540 for G54 ... 593 for
// G59.3, or 0 for another name.
func OffsetCode(name string) int {
	whole, part, _ := strings.Cut(strings.TrimPrefix(name, "G"), ".")
	w, err := strconv.Atoi(whole)
	if _, ok := OffsetNumber(name); !ok || err != nil {
		return 0
	}
	p, _ := strconv.Atoi(part)
	return w*10 + p
}

// Others gives what stands on the bed and isn't the given job's own, so that asking
// twice gives the same answer; an empty job owns nothing.
func (m *Machine) Others(job string) (out []InUse) {
	for _, u := range m.InUse {
		if job == "" || u.Job != job {
			out = append(out, u)
		}
	}
	return out
}

// Free gives the offsets that belong to nothing but the given job, in the order of
// their P numbers.
func (m *Machine) Free(job string, taken ...string) []string {
	for _, u := range m.Others(job) {
		taken = append(taken, u.Offset)
	}
	return slices.DeleteFunc(slices.Clone(OffsetNames(m.Extended)), func(name string) bool { return slices.Contains(taken, name) })
}

// Owner says what a taken offset is for, as " for ..."; nothing where that isn't known.
func Owner(name string, taken []InUse) string {
	for _, u := range taken {
		if u.Offset == name && u.For != "" {
			return " for " + u.For
		}
	}
	return ""
}
