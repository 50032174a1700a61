package words

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/transform"
	"flipcalc/registration"
)

// codesIn reads the string constants of a package's folder whose names pass.
func codesIn(t *testing.T, dir string, pass func(file, name string) bool) map[string]string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil || len(files) == 0 {
		t.Fatalf("%s: no files (%v)", dir, err)
	}
	out := map[string]string{}
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		src, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		tree, err := parser.ParseFile(token.NewFileSet(), f, src, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range tree.Decls {
			g, ok := d.(*ast.GenDecl)
			if !ok || g.Tok != token.CONST {
				continue
			}
			for _, s := range g.Specs {
				v := s.(*ast.ValueSpec)
				for i, name := range v.Names {
					if i >= len(v.Values) || !pass(filepath.Base(f), name.Name) {
						continue
					}
					if lit, ok := v.Values[i].(*ast.BasicLit); ok && lit.Kind == token.STRING {
						code, err := strconv.Unquote(lit.Value)
						if err != nil {
							t.Fatal(err)
						}
						out[name.Name] = code
					}
				}
			}
		}
	}
	return out
}

// Every code that another room can hand over has words, and no word is said
// about a code that nobody uses.
func TestEveryCodeHasWords(t *testing.T) {
	for _, c := range []struct {
		dir   string
		pass  func(file, name string) bool
		table map[string]sentence
	}{
		{".", func(file, name string) bool { return file == "drilling.go" && strings.HasPrefix(name, "Drill") }, drillingSentences},
		{".", func(file, name string) bool { return file == "setup.go" && strings.HasPrefix(name, "Note") }, setupSentences},
	} {
		codes := codesIn(t, c.dir, c.pass)
		if len(codes) == 0 {
			t.Errorf("%s: no codes found", c.dir)
		}
		used := map[string]bool{}
		for name, code := range codes {
			used[code] = true
			if c.table[code] == nil {
				t.Errorf("%s: %s (%q) has no words", c.dir, name, code)
			}
		}
		for code := range c.table {
			if !used[code] {
				t.Errorf("%s: %q has words but no code", c.dir, code)
			}
		}
	}
}

// Words are found for any number of values, and a gap shows.
func TestWordsNeedNoValues(t *testing.T) {
	for _, table := range []map[string]sentence{setupSentences, drillingSentences} {
		for code := range table {
			for n := range 8 {
				v := []string{"1", "2", "3", "4", "5", "6", "7", "8"}[:n]
				s := sayCode(table, code, v, transform.MM)
				if s == "" || strings.Contains(s, "%!") || strings.HasSuffix(s, ".") {
					t.Errorf("%s with %d values: %q", code, n, s)
				}
			}
		}
	}
}

// The flip is said in words that name what moves where: about a line parallel to
// Y the left edge goes right, about one parallel to X the near edge goes far.
func TestFlip(t *testing.T) {
	for _, c := range []struct {
		flip registration.Flip
		want string
	}{
		{registration.FlipY, "turned over about a line parallel to Y, like a page: left edge goes right"},
		{registration.FlipX, "turned over about a line parallel to X: near edge goes far"},
	} {
		if got := Flip(c.flip); got != c.want {
			t.Errorf("%v: %q, want %q", c.flip, got, c.want)
		}
	}
}

func d(s string) decimal.Decimal { return decimal.RequireFromString(s) }
