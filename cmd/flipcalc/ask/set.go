package ask

import (
	"fmt"
	"slices"
	"strings"
)

// takeSet takes the values that --set gives to keys without a flag, and says what can't be.
func (c *Ask) takeSet() (faults []error) {
	for _, s := range c.Texts("set") {
		if err := c.takePair(s); err != nil {
			faults = append(faults, err)
		}
	}
	return faults
}

// takePair takes KEY=VALUE.
func (c *Ask) takePair(s string) error {
	const where = "--set"
	key, text, has := strings.Cut(s, "=")
	d := Find(key)
	switch {
	case !has || key == "":
		return Wrong(where, fmt.Sprintf("%q", s), "KEY=VALUE", "such as --set peck=2")
	case d == nil && slices.Contains(machineKeys(""), key):
		return Wrong(where, key+": a key of the machine file alone", "", "put it into the file that ‹machine› names")
	case d == nil:
		hint := meant(key, keys(func(d *Question) bool { return !d.hasFlag() || d.jobKey() }), "'flipcalc help job' and 'flipcalc help machine' list the keys")
		return Wrong(where, key+": no such key", "", hint)
	case d.hasFlag():
		return Wrong(where, key+", which has a flag", "--"+key, "")
	case !d.TakenBy(c.Verb.Name):
		return Wrong(where, fmt.Sprintf("%s: no such key of %s", key, c.Verb.Name), "", key+" belongs to "+d.taken())
	}
	v := c.flags[key]
	v.where = where + " " + key
	if err := v.Set(text); err != nil {
		return Wrong(v.where, text, "true or false", "")
	}
	return nil
}
