package registration

import (
	"fmt"
	"slices"
	"strings"
)

// offsetNames are the work offsets in the order of the P numbers of G10 L2
// (NISTIR 6556, 3.5.5 and 3.5.13): six that every control has, then three.
var offsetNames = []string{"G54", "G55", "G56", "G57", "G58", "G59", "G59.1", "G59.2", "G59.3"}

// Offsets lists the work offsets, with G59.1 to G59.3 if the control is extended.
func Offsets(extended bool) []string {
	if extended {
		return slices.Clone(offsetNames)
	}
	return slices.Clone(offsetNames[:6])
}

// OffsetNumber gives the P number of an offset, 1 for G54 to 9 for G59.3, or 0.
func OffsetNumber(name string) int { return slices.Index(offsetNames, name) + 1 }

// ParseOffset reads the name of a work offset, G54 to G59 or G59.1 to G59.3.
func ParseOffset(s string) (string, error) {
	w := strings.ToUpper(strings.TrimSpace(s))
	if OffsetNumber(w) == 0 {
		return "", unknown(s, "a work offset: G54 to G59, or G59.1 to G59.3")
	}
	return w, nil
}

// FirstFree gives the first offset that isn't in use, or "".
func FirstFree(extended bool, used ...string) string {
	for _, o := range Offsets(extended) {
		if !slices.Contains(used, o) {
			return o
		}
	}
	return ""
}

// offsets fills in the two offsets and keeps them apart from each other and from
// what is taken.
func (q *Question) offsets(a *Answer) error {
	taken := make([]string, len(q.Taken))
	for i, t := range q.Taken {
		o, err := ParseOffset(t)
		if err != nil {
			return About(err, "--taken")
		}
		taken[i] = o
	}
	q.Taken = taken

	known := func(flag, name string, others ...string) (string, error) {
		o, err := ParseOffset(name)
		if err != nil {
			return "", About(err, flag)
		}
		if OffsetNumber(o) > 6 && !q.Extended {
			return "", &Error{About: flag, Found: o + " is an offset that not every control has", Expected: "G54 to G59",
				Hint: "say in the machine file that yours has G59.1 to G59.3"}
		}
		if slices.Contains(taken, o) {
			e := &Error{About: flag, Found: o + " belongs to something else", Expected: "a free offset"}
			if free := FirstFree(q.Extended, append(others, taken...)...); free != "" {
				e.Hint = "the first free one is " + free
			}
			return "", e
		}
		return o, nil
	}

	var err error
	if q.Offset == "" {
		q.Offset = offsetNames[0]
		if free := FirstFree(q.Extended, append(slices.Clone(taken), q.BackOffset)...); free != "" && slices.Contains(taken, q.Offset) {
			a.add(FactOffsetFree, LevelWarning, free, q.Offset)
			q.Offset = free
		} else {
			a.add(FactOffsetDefault, LevelAssumed, q.Offset)
		}
	}
	if q.Offset, err = known("--offset", q.Offset, q.BackOffset); err != nil {
		return err
	}
	switch {
	case q.BackOffset != "":
		if q.BackOffset, err = known("--back-offset", q.BackOffset, q.Offset); err != nil {
			return err
		}
		if q.BackOffset == q.Offset {
			return &Error{About: "--back-offset", Found: q.BackOffset + " is the face's offset too", Expected: "another one",
				Hint: "both zeros must be stored at once, or the second overwrites the first"}
		}
	case q.Register != NoRegister:
		q.BackOffset = FirstFree(q.Extended, append(slices.Clone(taken), q.Offset)...)
		if q.BackOffset == "" {
			e := &Error{About: "--back-offset", Found: fmt.Sprintf("no offset is left: %s holds the face, and %s belong to something else",
				q.Offset, strings.Join(taken, ", ")), Expected: "a free one"}
			if !q.Extended {
				e.Hint = "if the control has G59.1 to G59.3, say so in the machine file"
			}
			return e
		}
		a.add(FactBackOffset, LevelAssumed, append([]string{q.BackOffset}, taken...)...)
	}
	return nil
}
