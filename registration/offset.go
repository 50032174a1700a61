package registration

import (
	"fmt"
	"slices"
	"strings"

	"flipcalc/mirror/transform"
)

// ParseOffset reads the name of a work offset, G54 to G59 or G59.1 to G59.3.
func ParseOffset(s string) (string, error) {
	name := transform.OffsetName(transform.ReadOffset(s))
	if transform.OffsetNumber(name) == 0 {
		return "", unknown(s, "a work offset: G54 to G59, or G59.1 to G59.3")
	}
	return name, nil
}

// FirstFree gives the first offset that isn't in use, or "".
func FirstFree(extended bool, used ...string) string {
	return append(FreeOffsets(extended, used...), "")[0]
}

// FreeOffsets gives the offsets that aren't in use, in the order of their P numbers.
func FreeOffsets(extended bool, used ...string) []string {
	return slices.DeleteFunc(transform.OffsetNames(extended), func(name string) bool { return slices.Contains(used, name) })
}

// Usable says whether a job may use an offset: the control has it, and it is none of those
// taken. owner says what a taken one is for, as " for ..."; own are the job's other ones,
// which aren't offered instead.
func Usable(name string, extended bool, owner string, taken []string, own ...string) error {
	switch {
	case transform.OffsetNumber(name) > 6 && !extended:
		return &Error{Found: name + " is an offset that not every control has", Expected: "G54 to G59",
			Hint: "if the control has G59.1 to G59.3: extended = true in the machine file"}
	case slices.Contains(taken, name):
		e := &Error{Found: name + " is taken" + owner, Expected: "a free offset", Hint: "none is free"}
		if free := FreeOffsets(extended, append(own, taken...)...); len(free) > 0 {
			e.Hint = "free: " + strings.Join(free, ", ")
		}
		return e
	}
	return nil
}

// offsets fills in the two offsets and keeps them apart from each other and from
// what is taken.
func (q *Question) offsets(a *Answer) error {
	taken := make([]string, len(q.Taken))
	for i, t := range q.Taken {
		o, err := ParseOffset(t)
		if err != nil {
			return About(err, "taken")
		}
		taken[i] = o
	}
	q.Taken = taken

	known := func(flag, name, other string) (string, error) {
		o, err := ParseOffset(name)
		if err != nil {
			return "", About(err, flag)
		}
		if err := Usable(o, q.Extended, "", taken, other); err != nil {
			return "", About(err, flag)
		}
		return o, nil
	}

	var err error
	if q.Offset == "" {
		q.Offset = transform.OffsetNames(false)[0]
		if free := FirstFree(q.Extended, append(slices.Clone(taken), q.BackOffset)...); free != "" && slices.Contains(taken, q.Offset) {
			a.add(LevelWarning, OffsetFree{free, q.Offset})
			q.Offset = free
		} else {
			a.add(LevelAssumed, OffsetDefault{q.Offset})
		}
	}
	if q.Offset, err = known("offset", q.Offset, q.BackOffset); err != nil {
		return err
	}
	switch {
	case q.BackOffset != "":
		if q.BackOffset, err = known("back-offset", q.BackOffset, q.Offset); err != nil {
			return err
		}
		if q.BackOffset == q.Offset {
			return &Error{About: "back-offset", Found: q.BackOffset + " is the face's offset too", Expected: "another one",
				Hint: "both zeros must be stored at once, or the second overwrites the first"}
		}
	case q.Register != NoRegister:
		q.BackOffset = FirstFree(q.Extended, append(slices.Clone(taken), q.Offset)...)
		if q.BackOffset == "" {
			e := &Error{About: "back-offset", Found: fmt.Sprintf("none is free: %s is the face's, %s are taken",
				q.Offset, strings.Join(taken, ", ")), Expected: "a free one"}
			if !q.Extended {
				e.Hint = "if the control has G59.1 to G59.3: extended = true in the machine file"
			}
			return e
		}
		a.add(LevelAssumed, BackOffsetChosen{q.BackOffset, taken})
	}
	return nil
}
