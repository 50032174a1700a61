package mirror

import (
	"bytes"
	"regexp"
)

// latheSigns are what turning programs hold and milling programs each seldom do.
var latheSigns = []struct {
	says string
	in   *regexp.Regexp
}{
	{"G50 S", regexp.MustCompile(`G50([^0-9.\n][^\n]*)?S[0-9]`)},
	{"G96", regexp.MustCompile(`G96([^0-9.]|$)`)},
	{"G99 without a cycle", regexp.MustCompile(`(?m)^[/N0-9 ]*G99\s*$`)},
	{"G28 U", regexp.MustCompile(`G28[^\n]*U[-+0-9.]`)},
	{"a tool as T0101", regexp.MustCompile(`T[0-9]{4}([^0-9]|$)`)},
}

// aside is a comment of a program.
var aside = regexp.MustCompile(`\([^)\n]*\)|;[^\n]*`)

// LatheSigns names what tells that a program is a lathe's; nil where fewer than two signs
// stand together in it.
func LatheSigns(text []byte) (signs []string) {
	text = bytes.ToUpper(aside.ReplaceAll(text, nil))
	for _, s := range latheSigns {
		if s.in.Match(text) {
			signs = append(signs, s.says)
		}
	}
	if len(signs) < 2 {
		return nil
	}
	return signs
}
