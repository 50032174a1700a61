package ask

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"
)

// Entry is one key of a TOML file with its values as they were written: numbers
// keep all their digits.
type Entry struct {
	Table  string // "" at the top, else "travel" or "offset"
	Key    string
	Values []string
	List   bool
	Kind   string // "string", "number", "switch"
	line   int
	where  string // file:line:col
	fault  error  // what is wrong with the value, nil if nothing
}

// text is an entry's value as a flag would give it.
func (e Entry) text() string { return strings.Join(e.Values, ",") }

// place is where it stands, for messages.
func (e Entry) place() string { return e.where + ": " + e.Key }

// mostTOML is how long a job or machine file may be, some hundred times the longest that
// anybody wrote.
const mostTOML = 1 << 20

// mostKeys is how many keys it may have, some ten times all that there are.
const mostKeys = 1000

// keyLines finds the lines that give a key.
var keyLines = regexp.MustCompile(`(?m)^[ \t]*[A-Za-z0-9_-]+[ \t]*=`)

// ReadTOML gives a file's keys in order. Keys stand at the top, in tables, or in
// arrays of tables; values are strings, numbers, switches, or lists of these, and
// an entry whose value is none of these has a fault.
func ReadTOML(path string) ([]Entry, error) {
	data, err := ReadWhole(path, "a job or machine file", mostTOML)
	if err != nil {
		return nil, err
	}
	return parseTOML(path, data)
}

func parseTOML(path string, data []byte) ([]Entry, error) {
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if n := len(keyLines.FindAllIndex(data, -1)); n > mostKeys {
		return nil, wrongFile(path, fmt.Sprintf("%d keys", n), fmt.Sprintf("at most %d", mostKeys), "is this the right file?")
	}
	data, out, err := withoutFaults(path, data)
	if err != nil {
		return nil, err
	}
	var p unstable.Parser
	p.Reset(data)
	table := ""
	for p.NextExpression() {
		e := p.Expression()
		switch e.Kind {
		case unstable.Table, unstable.ArrayTable:
			name, line, at := keyOf(&p, e)
			where := fmt.Sprintf("%s:%s", path, at)
			table = name
			out = append(out, Entry{Table: table, line: line, where: where})
		case unstable.KeyValue:
			name, line, at := keyOf(&p, e)
			en := Entry{Table: table, Key: name, line: line, where: fmt.Sprintf("%s:%s", path, at)}
			en.fault = en.take(e.Value())
			out = append(out, en)
		}
	}
	if err := p.Error(); err != nil {
		return nil, wrongFile(path, err.Error(), "TOML", "")
	}
	slices.SortStableFunc(out, func(a, b Entry) int { return a.line - b.line })
	for i := range out {
		if e := &out[i]; e.fault != nil && i > 0 {
			e.Table = out[i-1].Table
		}
	}
	return out, nil
}

// keyLine is a line that holds a key with its value.
var keyLine = regexp.MustCompile(`^\s*([A-Za-z0-9_-]+)\s*=`)

// withoutFaults gives a file's text with each line left empty that is no TOML, and these
// as entries with a fault, so that all of them are told at once. Where the line isn't one
// of a key, what follows can't be told from it, and the fault is the answer.
func withoutFaults(path string, data []byte) (rest []byte, faulty []Entry, err error) {
	for {
		var whole map[string]any
		err := toml.Unmarshal(data, &whole)
		if err == nil {
			return data, faulty, nil
		}
		var de *toml.DecodeError
		if !errors.As(err, &de) {
			return nil, nil, wrongFile(path, strings.TrimPrefix(err.Error(), "toml: "), "TOML", "")
		}
		line, col := de.Position()
		if len(faulty) == 0 && programStart.Match(data) {
			return nil, nil, wrongFile(path, "that is a program", "a job file, or with --machine a machine file", "the job file names the programs: 'flipcalc help job' shows one")
		}
		e := Entry{line: line, where: fmt.Sprintf("%s:%d:%d", path, line, col)}
		lines := bytes.SplitAfter(data, []byte("\n"))
		if line < 1 || line > len(lines) {
			return nil, nil, Wrong(e.where, strings.TrimPrefix(de.Error(), "toml: "), "TOML", "")
		}
		found, hint := tomlFault(strings.TrimPrefix(de.Error(), "toml: "), string(lines[line-1]), col)
		e.fault = Wrong(e.where, found, "TOML", hint)
		key := keyLine.FindSubmatch(lines[line-1])
		if key == nil {
			return nil, nil, e.fault
		}
		e.Key = string(key[1])
		lines[line-1] = []byte("\n")
		data, faulty = bytes.Join(lines, nil), append(faulty, e)
		if len(faulty) == MostFaults {
			var all []error
			for _, f := range faulty {
				all = append(all, f.fault)
			}
			return nil, nil, Together(all)
		}
	}
}

// What a file that is no TOML starts with where it is a program, and lines that makers
// write by mistake: a number with a comma, texts without brackets around them.
var (
	programStart = regexp.MustCompile(`^\s*([%(]|/?\s*[GMNOTgmnot][0-9]+[ \t]*[A-Za-z(;\r\n]|;[^\n]*\n\s*[GNgn][0-9])`)
	commaNumber  = regexp.MustCompile(`^\s*([A-Za-z0-9_-]+)\s*=\s*([-+]?[0-9]+),([0-9]+)\s*(#.*)?$`)
	bareList     = regexp.MustCompile(`^\s*([A-Za-z0-9_-]+)\s*=\s*"[^"]*"\s*,\s*"`)
)

// tomlHints are what to do about what the TOML parser found.
var tomlHints = []struct{ found, hint string }{
	{"already defined", "leave one of them out"},
	{"invalid escape", `in a path write / for \, or single quotes around it`},
	{"cannot have new lines", "close the quotes on the same line"},
	{"expected ',' or ']'", "put a comma between values, and ] behind the last"},
}

// curlyQuotes are quotes that word processors write.
const curlyQuotes = "\u2018\u2019\u201a\u201c\u201d\u201e\u00ab\u00bb\u2032\u2033"

// tomlFault rewords what the TOML parser found at a column of a line, with what to do.
func tomlFault(found, line string, col int) (string, string) {
	line = strings.TrimRight(line, "\r\n")
	at := line[min(max(col-1, 0), len(line)):]
	if r, _ := utf8.DecodeRuneInString(at); strings.ContainsRune(curlyQuotes, r) {
		return fmt.Sprintf("the curly quote %c", r), `write straight quotes: key = "value"`
	}
	for _, h := range tomlHints {
		if strings.Contains(found, h.found) {
			return found, h.hint
		}
	}
	if m := bareList.FindStringSubmatch(line); m != nil {
		return found, fmt.Sprintf(`put [ ] around a list: %s = ["...", "..."]`, m[1])
	}
	if m := commaNumber.FindStringSubmatch(line); m != nil && !manyNumbers(m[1]) {
		hint := fmt.Sprintf("write the decimal point as a point: %s = %s.%s", m[1], m[2], m[3])
		if d := Find(m[1]); d != nil && d.Many {
			hint += fmt.Sprintf("; two values as a list: [%s, %s]", m[2], m[3])
		}
		return found, hint
	}
	return found, `write text in quotes: key = "value"; 'flipcalc help job' and 'flipcalc help machine' show whole files`
}

// manyNumbers reports whether a key of a job or machine file takes several numbers.
func manyNumbers(key string) bool {
	if d := Find(key); d != nil {
		return strings.Contains(d.Form, ",") || d.Key == "zero" || d.Key == "back-zero"
	}
	return slices.ContainsFunc(machineTable, func(d Question) bool { return d.Key == key && strings.Contains(d.Form, ",") })
}

// keyOf gives the key of an expression, with its dots, its line and its line:col.
func keyOf(p *unstable.Parser, e *unstable.Node) (name string, line int, at string) {
	var names []string
	it := e.Key()
	for it.Next() {
		n := it.Node()
		if at == "" {
			s := p.Shape(n.Raw)
			line, at = s.Start.Line, fmt.Sprintf("%d:%d", s.Start.Line, s.Start.Column)
		}
		names = append(names, string(n.Data))
	}
	return strings.Join(names, "."), line, at
}

// take reads a scalar or a list of scalars.
func (en *Entry) take(v *unstable.Node) error {
	switch v.Kind {
	case unstable.Array:
		en.List = true
		for it := v.Children(); it.Next(); {
			n := it.Node()
			if n.Kind == unstable.Array {
				return Wrong(en.where, en.Key+": a list within a list", "a plain list", "")
			}
			if err := en.take(n); err != nil {
				return err
			}
		}
		return nil
	case unstable.String:
		en.Kind = "string"
	case unstable.Integer, unstable.Float:
		en.Kind = "number"
	case unstable.Bool:
		en.Kind = "switch"
	default:
		return Wrong(en.where, en.Key+": a value of another kind", "text, a number, true or false, or a list of these", "")
	}
	s := string(v.Data)
	if en.Kind == "number" {
		s = strings.ReplaceAll(s, "_", "")
	}
	en.Values = append(en.Values, s)
	return nil
}
