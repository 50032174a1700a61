package main

import (
	"errors"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "rewrite the golden files of the command scripts; read the difference")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"flipcalc": main})
}

// TestScripts runs testdata/script: each file is a run of commands with what they
// must print, and is the specification of the command line.
func TestScripts(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join(root, "testdata", "script"),
		UpdateScripts:       *update,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(e *testscript.Env) error {
			e.Setenv("ROOT", root)
			e.Setenv("ORCHARD", filepath.Join(root, "testdata", "orchard"))
			e.Setenv("PROGRAMS", programs(root))
			e.Setenv("XDG_CONFIG_HOME", filepath.Join(e.WorkDir, "config"))
			e.Setenv("FLIPCALC_MACHINE", "")
			e.Setenv("RUNEWIDTH_EASTASIAN", "")
			e.Setenv("HOME", e.WorkDir)
			return nil
		},
		Condition: func(cond string) (bool, error) {
			name, arg, _ := strings.Cut(cond, ":")
			switch name {
			case "programs":
				_, err := os.Stat(filepath.Join(programs(root), "nist-c1.ngc"))
				return err == nil, nil
			case "has":
				_, err := exec.LookPath(arg)
				return err == nil, nil
			}
			return false, errors.New("unknown condition " + cond)
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"status": status,
			"mkfifo": func(ts *testscript.TestScript, neg bool, args []string) {
				ts.Check(exec.Command("mkfifo", ts.MkAbs(args[0])).Run())
			},
			"holds": holds,
		},
	})
}

// programs is the folder of real programs that are not part of the project; tests
// that want them skip where it isn't there.
func programs(root string) string {
	if p := os.Getenv("FLIPCALC_PROGRAMS"); p != "" {
		return p
	}
	return filepath.Join(root, "..", "shared", "programs")
}

// status CODE COMMAND [ARG...] runs a command that must exit with the code.
func status(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status CODE COMMAND [ARG...]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("exit %d, want %d\nstdout: %s\nstderr: %s", got, want, ts.ReadFile("stdout"), ts.ReadFile("stderr"))
	}
}

// holds FOLDER [NAME...] says that a folder holds just these files, hidden ones
// included.
func holds(ts *testscript.TestScript, neg bool, args []string) {
	entries, err := os.ReadDir(ts.MkAbs(args[0]))
	ts.Check(err)
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	if got, want := strings.Join(names, " "), strings.Join(args[1:], " "); got != want {
		ts.Fatalf("%s holds %q, want %q", args[0], got, want)
	}
}
