// Readme runs the commands of README.md as they are written there, in a copy of
// the tree with flipcalc on the PATH: every fenced block marked sh. A block marked
// text that follows holds what they print, and must agree; --update writes it. A
// block marked 'sh no-run' is left out.
package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

func main() {
	if err := run(len(os.Args) > 1 && os.Args[1] == "--update"); err != nil {
		fmt.Fprintln(os.Stderr, "readme:", err)
		os.Exit(1)
	}
}

func run(update bool) error {
	tmp, err := os.MkdirTemp("", "readme")
	if err != nil {
		return err
	}
	defer os.RemoveAll(tmp)
	tree := filepath.Join(tmp, "flipcalc")
	if err := os.CopyFS(tree, os.DirFS(".")); err != nil {
		return err
	}
	bin := filepath.Join(tmp, "bin")
	build := exec.Command("go", "build", "-buildvcs=false", "-o", filepath.Join(bin, "flipcalc"), "./cmd/flipcalc")
	build.Stderr = os.Stderr
	if err := build.Run(); err != nil {
		return err
	}
	data, err := os.ReadFile("README.md")
	if err != nil {
		return err
	}
	lines := strings.Split(string(data), "\n")
	var out []string
	ran := 0
	for i := 0; i < len(lines); i++ {
		out = append(out, lines[i])
		if lines[i] != "```sh" {
			continue
		}
		start, end := i+1, closing(lines, i)
		block := strings.Join(lines[start:end], "\n") + "\n"
		fmt.Printf("-- README.md:%d\n%s", start+1, block)
		got, err := shell(block, tree, tmp, bin)
		if err != nil {
			return fmt.Errorf("README.md:%d: %v\n%s", start+1, err, got)
		}
		ran++
		out = append(out, lines[start:end+1]...)
		i = end
		next := end + 1
		for next < len(lines) && lines[next] == "" {
			next++
		}
		if next == len(lines) || lines[next] != "```text" {
			continue
		}
		stop := closing(lines, next)
		want := strings.Join(lines[next+1:stop], "\n")
		got = strings.TrimRight(strings.ReplaceAll(got, tmp, ""), "\n")
		if got != want && !update {
			return fmt.Errorf("README.md:%d: the commands print\n%s\n\nREADME.md says\n%s", next+1, got, want)
		}
		out = append(out, lines[end+1:next+1]...)
		out = append(out, got, "```")
		i = stop
	}
	fmt.Printf("%d blocks of commands ran\n", ran)
	if update {
		return os.WriteFile("README.md", []byte(strings.Join(out, "\n")), 0o644)
	}
	return nil
}

// closing finds the end of the fenced block that opens at i.
func closing(lines []string, i int) int {
	for i++; i < len(lines) && lines[i] != "```"; i++ {
	}
	return i
}

// shell runs a block of commands and gives what they print.
func shell(block, tree, home, bin string) (string, error) {
	sh := exec.Command("bash", "-euo", "pipefail", "-c", block)
	sh.Dir = tree
	sh.Env = append(os.Environ(), "PATH="+bin+":"+os.Getenv("PATH"), "XDG_CONFIG_HOME="+home, "FLIPCALC_MACHINE=")
	out, err := sh.CombinedOutput()
	return string(out), err
}
