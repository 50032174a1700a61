// Startup measures the quick look-up against a program that only prints a word:
// wall time of the whole process, median of 20, the two taking turns. Both are built
// without cgo, as README.md says: a static binary has no shared library to load.
package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"time"
)

const runs = 20

const hello = `package main

import "fmt"

func main() { fmt.Println("hello") }
`

func main() {
	if err := measure(); err != nil {
		fmt.Fprintln(os.Stderr, "startup:", err)
		os.Exit(1)
	}
}

func measure() error {
	tmp, err := os.MkdirTemp("", "startup")
	if err != nil {
		return err
	}
	defer os.RemoveAll(tmp)
	src := filepath.Join(tmp, "hello.go")
	if err := os.WriteFile(src, []byte(hello), 0o644); err != nil {
		return err
	}
	plain, tool := filepath.Join(tmp, "hello"), filepath.Join(tmp, "flipcalc")
	for _, b := range [][]string{{"build", "-o", plain, src}, {"build", "-o", tool, "./cmd/flipcalc"}} {
		cmd := exec.Command("go", b...)
		cmd.Stderr = os.Stderr
		cmd.Env = append(os.Environ(), "CGO_ENABLED=0")
		if err := cmd.Run(); err != nil {
			return err
		}
	}
	look := []string{"origin", "--stock", "140x90x19", "--flip", "y", "--register", "fence", "--fence", "near",
		"--stop", "left", "--back-stop", "right", "--zero", "near-left", "--at", "50,60,-20"}
	var times [2][]time.Duration
	for i := range runs + 2 { // the first two warm up
		for which, args := range [][]string{{plain}, append([]string{tool}, look...)} {
			start := time.Now()
			if err := exec.Command(args[0], args[1:]...).Run(); err != nil {
				return err
			}
			if i >= 2 {
				times[which] = append(times[which], time.Since(start))
			}
		}
	}
	for i := range times {
		slices.Sort(times[i])
	}
	a, b := times[0][runs/2], times[1][runs/2]
	fmt.Printf("hello %.2f ms, flipcalc origin %.2f ms, ratio %.2f (medians of %d)\n",
		float64(a.Microseconds())/1000, float64(b.Microseconds())/1000, float64(b)/float64(a), runs)
	return nil
}
