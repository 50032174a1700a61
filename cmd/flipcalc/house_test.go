package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"flipcalc/cmd/flipcalc/ask"
)

// never says what a room may not reach, on any way: imports of imports count.
var never = []struct {
	rooms, reached string // path prefixes below the module's
	but            []string
	why            string
}{
	{rooms: "mirror/motion", reached: "mirror", but: []string{"mirror/motion", "mirror/transform", "mirror/fault"},
		why: "the control reads by itself, or a misreading would prove itself"},
	{rooms: "mirror/proof", reached: "mirror", but: []string{"mirror/proof", "mirror/motion", "mirror/transform", "mirror/fault"},
		why: "the proof shares no reading with what it proves"},
	{rooms: "registration", reached: "mirror", but: []string{"mirror/transform", "mirror/fault", "mirror/fact"}, why: "where a blank lies is known without its programs"},
	{rooms: "mirror", reached: "registration", why: "what a program does is known without its blank"},
	{rooms: "registration", reached: "report", why: "the engines don't know who reads them"},
	{rooms: "registration", reached: "cmd", why: "the engines don't know who asks them"},
	{rooms: "mirror", reached: "report", why: "the engines don't know who reads them"},
	{rooms: "mirror", reached: "cmd", why: "the engines don't know who asks them"},
	{rooms: "report", reached: "cmd", why: "what is read rests on results, not on questions"},
	{rooms: "report/words", reached: "report", but: []string{"report/words", "report/letters"}, why: "a sentence is the same on each page"},
	{rooms: "cmd/flipcalc/job", reached: "cmd/flipcalc", but: []string{"cmd/flipcalc/job", "cmd/flipcalc/ask"}, why: "the work knows no verb"},
	{rooms: "cmd/flipcalc/ask", reached: "cmd/flipcalc", but: []string{"cmd/flipcalc/ask"}, why: "a question knows nothing of its answer"},
}

// below says that a path is a room or lies in it.
func below(path, room string) bool {
	return path == room || strings.HasPrefix(path, room+"/")
}

func TestRoomsReachOneWay(t *testing.T) {
	out, err := exec.Command("go", "list", "-f", `{{.ImportPath}}{{range .Deps}} {{.}}{{end}}`, "flipcalc/...").Output()
	if err != nil {
		t.Fatal(err)
	}
	rooms := 0
	for _, line := range strings.Split(strings.TrimSpace(string(out)), "\n") {
		paths := strings.Fields(line)
		room := strings.TrimPrefix(paths[0], "flipcalc/")
		rooms++
		for _, path := range paths[1:] {
			reached, ours := strings.CutPrefix(path, "flipcalc/")
			if !ours && path != "flipcalc" {
				continue
			}
			for _, n := range never {
				allowed := slices.ContainsFunc(n.but, func(but string) bool { return below(reached, but) })
				if below(room, n.rooms) && below(reached, n.reached) && !allowed {
					t.Errorf("%s reaches %s: %s", room, reached, n.why)
				}
			}
		}
	}
	if rooms < 10 {
		t.Errorf("only %d rooms were listed", rooms)
	}
}

// eachString visits the strings of every room that may not spell a flag.
func eachString(t *testing.T, visit func(room, s string)) {
	t.Helper()
	root := filepath.Join("..", "..")
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		room := strings.TrimPrefix(filepath.ToSlash(filepath.Dir(path)), "../../")
		if d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") || below(room, "cmd/flipcalc/ask") || below(room, "report/words") || below(room, "report/internal") || below(room, "testdata") {
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
				if s, err := strconv.Unquote(lit.Value); err == nil {
					visit(room, s)
				}
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// TestFlagsAreSpeltInOneRoom finds strings with a flag's name, such as "--stock". How a
// flag is spelt is known to the table of questions and to what a maker reads.
func TestFlagsAreSpeltInOneRoom(t *testing.T) {
	flag := regexp.MustCompile(`(^|[^-])--[a-z]`)
	eachString(t, func(room, s string) {
		if flag.MatchString(s) {
			t.Errorf("%s: %q spells a flag: mark the key, and let the table of questions spell it", room, s)
		}
	})
}

// TestMarksNameKeys finds marked keys in all strings: a key that the table of questions
// doesn't know would be read as it is marked. One value of a key that may have several
// stands beside those that it has, unless it is meant to be all.
func TestMarksNameKeys(t *testing.T) {
	mark := regexp.MustCompile(`‹([^› ]*) ?(\+ )?([^›]*)(›?)`)
	whole := []string{"‹hole DIA›", "‹hole 6.1›", "‹diameter %s›", "‹landed 2:0.1,0›"}
	marks := 0
	eachString(t, func(room, s string) {
		for _, m := range mark.FindAllStringSubmatch(s, -1) {
			marks++
			d := ask.Find(m[1])
			beside, alone := m[2] != "", m[3] != "" && !strings.Contains(m[3], "; ") && !slices.Contains(whole, m[0])
			switch {
			case m[4] == "" || m[1] != "%s" && d == nil:
				t.Errorf("%s: %q marks no key", room, s)
			case d == nil:
			case beside && !d.Many:
				t.Errorf("%s: %q: %s has one value, beside which none can stand", room, s, m[1])
			case d.Many && alone && !beside:
				t.Errorf("%s: %q: reads as if %s had no other value: put a + before it", room, s, m[1])
			}
		}
	})
	if marks < 40 {
		t.Errorf("only %d marks were found", marks)
	}
}

// TestVerbsDoNoArithmetic: package main prints and writes what job works out. A length that
// is added up there is out of reach of job's tests.
func TestVerbsDoNoArithmetic(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	may := []string{"cmd/flipcalc/ask", "cmd/flipcalc/job", "report", "report/words", "mirror/fact", "mirror/fault", "mirror/transform", "registration"}
	for _, path := range files {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range file.Imports {
			reached, ours := strings.CutPrefix(strings.Trim(i.Path.Value, `"`), "flipcalc/")
			if ours && !slices.Contains(may, reached) || strings.HasSuffix(reached, "decimal") {
				t.Errorf("%s imports %s: package main reckons nothing and calls no engine", path, reached)
			}
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if call, ok := n.(*ast.CallExpr); ok {
				if s, ok := call.Fun.(*ast.SelectorExpr); ok && slices.Contains([]string{"Add", "Sub", "Mul", "Div", "Neg", "Convert"}, s.Sel.Name) {
					t.Errorf("%s: %s reckons in package main", path, s.Sel.Name)
				}
			}
			return true
		})
	}
}
