package main

import (
	"errors"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "rewrite the golden files of the command scripts; read the difference")

func TestMain(m *testing.M) {
	// A command collects little before it ends; hundreds of them in one process would
	// collect a third of the time.
	debug.SetGCPercent(400)
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
	dir := filepath.Join(root, "testdata", "script")
	if !*update {
		dir = within(t, dir)
	}
	t.Chdir(".") // back, when all have run
	for _, key := range environment {
		t.Setenv(key, "")
	}
	testscript.Run(t, testscript.Params{
		Dir:                 dir,
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
			"within": func(ts *testscript.TestScript, neg bool, args []string) {
				if code := exit(ts, args); (code != 0) != neg {
					ts.Fatalf("exit %d", code)
				}
			},
			"mkfifo": func(ts *testscript.TestScript, neg bool, args []string) {
				ts.Check(exec.Command("mkfifo", ts.MkAbs(args[0])).Run())
			},
			"holds": holds,
		},
	})
}

// within copies the scripts, with the lines that run flipcalc for its answer changed to run it
// within the test: seven hundred processes cost more than their work. Goldens are written by
// processes.
func within(t *testing.T, dir string) string {
	to := t.TempDir()
	scripts, err := filepath.Glob(filepath.Join(dir, "*.txtar"))
	if err != nil || len(scripts) == 0 {
		t.Fatal(dir, err)
	}
	run := regexp.MustCompile(`(?m)^((?:\[[^]]*\] )?(?:! )?)exec (flipcalc .*[^&\n])$`)
	for _, path := range scripts {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(to, filepath.Base(path)), run.ReplaceAll(text, []byte("${1}within $2")), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return to
}

// environment is what flipcalc looks at where it speaks to no terminal.
var environment = []string{"HOME", "XDG_CONFIG_HOME", "FLIPCALC_MACHINE"}

var oneFolder sync.Mutex // a process is in one folder

// exit runs a command and gives its exit code: flipcalc within the test, unless it reads what
// the script gives it or its answer is as wide as the terminal.
func exit(ts *testscript.TestScript, args []string) int {
	own := func(arg string) bool { return arg == "-" || strings.Contains(arg, "help") }
	if args[0] != "flipcalc" || *update || slices.ContainsFunc(args, own) {
		var failed *exec.ExitError
		err := ts.Exec(args[0], args[1:]...)
		if errors.As(err, &failed) {
			return failed.ExitCode()
		}
		ts.Check(err)
		return 0
	}
	oneFolder.Lock()
	defer oneFolder.Unlock()
	ts.Check(os.Chdir(ts.MkAbs(".")))
	for _, key := range environment {
		ts.Check(os.Setenv(key, ts.Getenv(key)))
	}
	return run(args[1:], strings.NewReader(""), ts.Stdout(), ts.Stderr())
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
	got := exit(ts, args[1:])
	if got != want {
		ts.Fatalf("exit %d, want %d", got, want)
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
