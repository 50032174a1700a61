package main

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"flipcalc/cmd/flipcalc/ask"
)

// Whatever value a key of a job file has, a refusal names the key's line and column, or
// that of a program, and writes its numbers with no exponent.
func TestRefusalsNameTheirPlace(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	root, err := filepath.Abs("../../testdata/clean")
	if err != nil {
		t.Fatal(err)
	}
	base := []string{`stock = "120x80x12"`, `flip = "y"`, `register = "dowels"`, `pin = ["60,10,6", "60,70,6"]`, `hole = "6.1"`, `at = "200,150,-60"`, `travel = "600x400x120"`,
		`zero = "center"`, `face = "` + filepath.ToSlash(root) + `/stake-face.nc"`, `mirror = "` + filepath.ToSlash(root) + `/stake-back.nc"`, `tool = ["1=flat,6"]`, `cell = "1"`, `offset = "G54"`, `back-offset = "G55"`}
	values := []string{"-7", "0", "0.0000001", "1200000", "1e10", "123456789012", "nonsense", "1,2", "1200000,2", "1,2,3", "120x0", "120x80x9000000", "1,2,0x5", "1,2,5x5,0", "2=flat,6", "1=flat,5000",
		"1=flat,0.0000001", "3=vee,6,500", "clearance=-1", "thickness=900000", "left@7", "near@1200000", "G53", "max", "outlines=7", "60,40@1200000,5"}
	placed := regexp.MustCompile(`^flipcalc: (\S*job\.toml|\S+\.nc( \(mirrored\))?):[0-9]+:[0-9]+: `)
	exponent := regexp.MustCompile(`[0-9][eE][+-]?[0-9]`)
	path := filepath.Join(t.TempDir(), "job.toml")
	refused := 0
	for i := range ask.Table {
		d := &ask.Table[i]
		if !d.TakenBy("check") || d.Form == "" || d.Key == "machine" || d.Key == "job" || d.Key == "cell" && testing.Short() {
			continue
		}
		for _, v := range values {
			var lines []string
			for _, l := range base {
				if !strings.HasPrefix(l, d.Key+" ") {
					lines = append(lines, l)
				}
			}
			text := strings.Join(append(lines, fmt.Sprintf("%s = %q", d.Key, v)), "\n") + "\n"
			if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
				t.Fatal(err)
			}
			var out, errw bytes.Buffer
			code := run([]string{"origin", "--job", path, "--quiet"}, strings.NewReader(""), &out, &errw)
			if code == exitDone { // what origin doesn't look at
				errw.Reset()
				code = run([]string{"check", "--job", path, "--quiet"}, strings.NewReader(""), &out, &errw)
			}
			if code == exitDone {
				continue
			}
			for line := range strings.SplitSeq(strings.TrimSpace(errw.String()), "\n") {
				if !strings.HasPrefix(line, "flipcalc: ") || strings.HasPrefix(line, "flipcalc: warning") || strings.HasPrefix(line, "flipcalc: check: ") {
					continue
				}
				refused++
				if !placed.MatchString(line) && !strings.Contains(line, ": missing, ") { // what isn't there has no place
					t.Errorf("%s = %q: no place: %s", d.Key, v, line)
				}
				if exponent.MatchString(strings.ReplaceAll(line, v, "")) {
					t.Errorf("%s = %q: a number with an exponent: %s", d.Key, v, line)
				}
			}
		}
	}
	if refused < 500 {
		t.Errorf("%d refusals", refused)
	}
}

// No sentence is made with a verb that writes an exponent, or the fields of a struct.
func TestSentencesWritePlainNumbers(t *testing.T) {
	bad := regexp.MustCompile(`%[-+#0-9.]*[gGeE]|%\+v|%#v`)
	for _, room := range []string{"../../mirror", "../../registration", "../../report", "."} {
		err := filepath.WalkDir(room, func(path string, _ fs.DirEntry, err error) error {
			if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			files := token.NewFileSet()
			f, err := parser.ParseFile(files, path, nil, 0)
			if err != nil {
				return err
			}
			ast.Inspect(f, func(n ast.Node) bool {
				if s, ok := n.(*ast.BasicLit); ok && s.Kind == token.STRING && bad.MatchString(s.Value) {
					t.Errorf("%s: %s", files.Position(s.Pos()), s.Value)
				}
				return true
			})
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}
