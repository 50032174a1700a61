// Bench measures the mirror against what everybody has at hand, in one run and as
// whole processes: sed, wc, awk, and a program of the obvious kind (Scanner,
// ParseFloat, Fprintf).
//
//	go run ./testdata/bench            100 MB, median of 5 runs
//	go run ./testdata/bench -mb 1000   a gigabyte, to see that memory stays where it is
//
// It makes a program of lines such as "G1 X53.874 Y23.287 F1427" in a temporary
// folder, runs every contender once to warm up and then in turns, and prints the
// median wall time, MB/s, peak resident memory and the ratio to wc -w. Last comes what
// check costs for each cutting move.
package main

import (
	"bufio"
	"bytes"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"flipcalc/mirror"
	"flipcalc/mirror/transform"
)

func main() {
	if len(os.Args) == 3 && os.Args[1] == "child" {
		if err := child(os.Args[2]); err != nil {
			fmt.Fprintln(os.Stderr, "bench:", err)
			os.Exit(1)
		}
		return
	}
	mb := flag.Int("mb", 100, "size of the program in MB (10^6 bytes)")
	runs := flag.Int("runs", 5, "runs of each contender")
	flag.Parse()
	if err := bench(*mb, *runs); err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
}

// contender is one way to go through the program.
type contender struct {
	name  string
	argv  []string
	stdin bool // takes the program on standard input
	inch  bool // the program in inches, as long

	walls []time.Duration
	rss   int64 // KiB
}

func bench(mb, runs int) error {
	dir, err := os.MkdirTemp("", "flipcalc-bench-*")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	program := filepath.Join(dir, "plain.nc")
	size, err := write(program, head, "G1 X%.3f Y%.3f F%.0f\n", 1, mb)
	if err != nil {
		return err
	}
	inches := filepath.Join(dir, "inch.nc")
	if _, err := write(inches, strings.Replace(head, "G21", "G20", 1), "G1 X%.4f Y%.4f F%.1f\n", 1/25.4, mb); err != nil {
		return err
	}
	self, err := os.Executable()
	if err != nil {
		return err
	}
	all := []*contender{
		{name: "wc -w", argv: []string{"wc", "-w", program}},
		{name: "mirrored and proved", argv: []string{self, "child", "mirror"}, stdin: true},
		{name: "in inches, mirrored and proved", argv: []string{self, "child", "mirror"}, stdin: true, inch: true},
		{name: "sed -E, one hit a line", argv: []string{"sed", "-E", `s/X/X-/`, program}},
		{name: "awk sub, one hit a line", argv: []string{"awk", `{ sub(/X/, "X-"); print }`, program}},
		{name: "Scanner, ParseFloat, Fprintf", argv: []string{self, "child", "naive"}, stdin: true},
	}
	tool := filepath.Join(dir, "flipcalc")
	built := exec.Command("go", "build", "-o", tool, "./cmd/flipcalc").Run() == nil
	if built {
		all = slices.Insert(all, 3, &contender{name: "flipcalc mirror -o -", argv: []string{tool, "mirror", program, "--stock", "101.6x100x10", "--flip", "y", "-o", "-"}})
	}
	for run := range runs + 1 {
		for _, c := range all {
			from := program
			if c.inch {
				from = inches
			}
			if err := c.run(from, run > 0); err != nil {
				return fmt.Errorf("%s: %w", c.name, err)
			}
		}
	}
	fmt.Printf("%.1f MB, %d lines such as G1 X53.874 Y23.287 F1427; median of %d runs; %d cores\n\n", float64(size)/1e6, lines(mb), runs, runtime.NumCPU())
	fmt.Printf("%-42s %8s %8s %8s %8s\n", "", "wall s", "MB/s", "x wc -w", "MiB")
	wc := all[0].median().Seconds()
	for _, c := range all {
		s := c.median().Seconds()
		fmt.Printf("%-42s %8.3f %8.0f %8.2f %8.1f\n", c.name, s, float64(size)/1e6/s, s/wc, float64(c.rss)/1024)
	}
	by := func(name string) float64 {
		for _, c := range all {
			if strings.HasPrefix(c.name, name) {
				return c.median().Seconds()
			}
		}
		return 0
	}
	proved := by("mirrored and proved")
	fmt.Printf("\nmirrored and proved: %.1f x sed -E, %.1f x Scanner and Fprintf, %.2f of the time of wc -w\n", by("sed")/proved, by("Scanner")/proved, proved/wc)
	fmt.Printf("in inches: %.2f of the time of mm, line for line\n", by("in inches")/proved)
	if !built {
		return nil
	}
	fmt.Printf("the command: %.2f of the time of the library\n", by("flipcalc")/proved)
	return benchCheck(tool, dir, mb*2000, runs)
}

// benchCheck prints what check costs for each cutting move: the face is cleared over and
// over, 0.5 mm a move, which is how a CAM program follows a curve.
func benchCheck(tool, dir string, moves, runs int) error {
	face, back := filepath.Join(dir, "cleared.nc"), filepath.Join(dir, "hole.nc")
	var b bytes.Buffer
	fmt.Fprint(&b, "G21 G90 G17\nT1 M6\nM3 S9000\nG0 X10 Y10 Z5\nG1 Z-1 F500\n")
	for i := range moves {
		row, at := i/160, float64(i%160)/2
		if row%2 == 1 {
			at = 79.5 - at
		}
		fmt.Fprintf(&b, "G1 X%.3f Y%.3f\n", 10+at, 10+float64(row%160)/2)
	}
	fmt.Fprint(&b, "G0 Z5\nM30\n")
	if err := os.WriteFile(face, b.Bytes(), 0o666); err != nil {
		return err
	}
	if err := os.WriteFile(back, []byte("G21 G90 G17\nT1 M6\nM3 S9000\nG0 X50 Y50 Z5\nG1 Z-1 F500\nG0 Z5\nM30\n"), 0o666); err != nil {
		return err
	}
	c := contender{argv: []string{tool, "check", "--stock", "100x100x10", "--flip", "y", "--face", face, "--back", back, "--tool", "1=flat,6"}}
	for run := range runs + 1 {
		if err := c.run(face, run > 0); err != nil {
			return err
		}
	}
	s := c.median().Seconds()
	fmt.Printf("\ncheck: %d moves of 0.5 mm with a cutter of 6 mm, cells as by default: %.3f s, %.2f us a move, %.1f MiB\n", moves, s, s*1e6/float64(moves), float64(c.rss)/1024)
	return nil
}

func (c *contender) median() time.Duration {
	w := slices.Clone(c.walls)
	slices.Sort(w)
	return w[len(w)/2]
}

func (c *contender) run(program string, counts bool) error {
	cmd := exec.Command(c.argv[0], c.argv[1:]...)
	var said bytes.Buffer
	cmd.Stderr = &said
	if c.stdin {
		f, err := os.Open(program)
		if err != nil {
			return err
		}
		defer f.Close()
		cmd.Stdin = f
	}
	null, err := os.OpenFile(os.DevNull, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	defer null.Close()
	cmd.Stdout = null
	start := time.Now()
	if err := cmd.Start(); err != nil {
		return err
	}
	if counts {
		peak, ended := make(chan int64), make(chan struct{})
		go watch(cmd.Process.Pid, peak, ended)
		defer func() {
			close(ended)
			c.rss = max(c.rss, <-peak)
		}()
	}
	if err := cmd.Wait(); err != nil {
		return fmt.Errorf("%w: %s", err, said.Bytes())
	}
	if counts {
		c.walls = append(c.walls, time.Since(start))
	}
	return nil
}

// watch gives a process' own peak of resident memory in KiB, as Linux holds it
// (VmHWM, proc(5)), read until it ended; 0 elsewhere. What wait(2) tells won't do:
// there a process started by a larger one has the other's peak.
func watch(pid int, peak chan<- int64, ended <-chan struct{}) {
	var kib int64
	tick := time.NewTicker(5 * time.Millisecond)
	defer tick.Stop()
	for {
		text, _ := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
		if _, rest, ok := strings.Cut(string(text), "VmHWM:"); ok {
			var now int64
			fmt.Sscan(rest, &now)
			kib = max(kib, now)
		}
		select {
		case <-ended:
			peak <- kib
			return
		case <-tick.C:
		}
	}
}

const (
	head      = "%\nO1\nG21 G90 G94 G17\nM3 S9000\nG0 X0 Y0 Z5\n"
	tail      = "M30\n%\n"
	different = 100_000 // lines that differ; then they repeat
)

// lines is how many lines make so many MB, at 25.5 bytes each on the average.
func lines(mb int) int { return mb * 1_000_000 * 2 / 51 }

// write makes a program of lines in a form for X, Y and a feed, in mm times unit.
func write(name, head, form string, unit float64, mb int) (int64, error) {
	f, err := os.Create(name)
	if err != nil {
		return 0, err
	}
	defer f.Close()
	r := rand.New(rand.NewPCG(1, 2))
	var b bytes.Buffer
	ends := make([]int, 0, different)
	for range different {
		fmt.Fprintf(&b, form, 100*r.Float64()*unit, 100*r.Float64()*unit, float64(500+r.IntN(1500))*unit)
		ends = append(ends, b.Len())
	}
	if _, err := f.WriteString(head); err != nil {
		return 0, err
	}
	for left := lines(mb); left > 0; left -= different {
		if _, err := f.Write(b.Bytes()[:ends[min(left, different)-1]]); err != nil {
			return 0, err
		}
	}
	if _, err := f.WriteString(tail); err != nil {
		return 0, err
	}
	return f.Seek(0, io.SeekCurrent)
}

// child is the work of one contender, from standard input to standard output.
func child(what string) error {
	m := transform.Identity(transform.MM)
	m.X = transform.Axis{Sign: -1, Offset: decimal.RequireFromString("101.6")}
	var err error
	switch what {
	case "mirror":
		_, err = mirror.Mirror(os.Stdin, os.Stdout, mirror.Options{Map: m, Direct: true})
	case "naive":
		return naive(os.Stdin, os.Stdout)
	default:
		return fmt.Errorf("no contender %q", what)
	}
	return err
}

// naive mirrors X in floating point, a line and a word at a time.
func naive(in io.Reader, out io.Writer) error {
	scan := bufio.NewScanner(in)
	w := bufio.NewWriter(out)
	for scan.Scan() {
		words := strings.Fields(scan.Text())
		for i, word := range words {
			if i > 0 {
				fmt.Fprint(w, " ")
			}
			if word[0] != 'X' {
				fmt.Fprint(w, word)
				continue
			}
			x, err := strconv.ParseFloat(word[1:], 64)
			if err != nil {
				return err
			}
			fmt.Fprintf(w, "X%.3f", 101.6-x)
		}
		fmt.Fprintln(w)
	}
	if err := scan.Err(); err != nil {
		return err
	}
	return w.Flush()
}
