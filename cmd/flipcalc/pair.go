package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"flipcalc/cmd/flipcalc/ask"
	"flipcalc/mirror/cycle"
	"flipcalc/mirror/motion"
	"flipcalc/report"
)

func runPair(c *call) error {
	dir := c.Text("output")
	if dir == "-" {
		return ask.Wrong("-o", "-", "a folder", "pair writes three programs, "+runFiles[0]+", "+runFiles[1]+" and "+runFiles[2])
	}
	var sources []cycle.Source
	var asRun []cycle.Source // backs that nothing says are ready
	for i, path := range c.Operands {
		if path == "-" && slices.Contains(c.Operands[:i], "-") {
			return ask.Wrong("-", "standard input named twice", "one program from standard input", "")
		}
		if i > 0 {
			for _, drawn := range c.Texts("mirror") {
				if path != "-" && sameFile(path, drawn) {
					return ask.Wrong(path, "a program that the job file says is to be mirrored", "the mirrored program", "prepare writes it, as "+outName(path, "mirror")+", or flipcalc mirror does")
				}
			}
		}
		src, err := c.source(path)
		if err != nil {
			return err
		}
		sources = append(sources, src)
		if i > 0 && !slices.ContainsFunc(c.Texts("back"), func(b string) bool { return path != "-" && sameFile(path, b) }) {
			asRun = append(asRun, src)
		}
	}
	m, err := c.Machine()
	if err != nil {
		return err
	}
	if err := c.ownOffsets(m, sources); err != nil {
		return err
	}
	j := &job{machine: m}
	if c.Given("stock") || c.Given("measured") || c.Given("pairs") {
		// Stations are placed for the programs that are merged, and for the job's
		// own, so that they lie where the job's other files have them.
		c.Put("face", "", append(slices.Clone(c.Texts("face")), c.Operands[0]))
		c.Put("back", "", append(slices.Clone(c.Texts("back")), c.Operands[1:]...))
		if j.answer, err = c.solve(m); err != nil {
			return err
		}
		if m.Known || c.Given("pairs") {
			if err := c.stand(j); err != nil {
				return err
			}
		}
		if a := j.answer; a.BackCorner != nil && a.FaceMachine == a.Machine && a.SamePlace() {
			return ask.Wrong("", "face and back lie at one and the same place", "two stations, since each cycle cuts a face and a back",
				"place pairs with --pairs, or say where the back's locators stand")
		}
	}
	if err := c.clampsPlaced(j); err != nil {
		return err
	}
	back := sources[1]
	back.Then = sources[2:]
	p, err := c.produce(m, j.answer, j.layout, sources[0], back)
	if err != nil {
		for i, path := range c.Operands {
			err = c.ofSource(path, sources[i].Name, err)
		}
		return err
	}
	var changes []change
	if dir != "" {
		if changes, err = c.write(set{dir: dir, files: p.files}); err != nil {
			return err
		}
	}
	if c.On("bare") && dir != "" {
		c.cautions()
	}
	p.setup.Notes = append(c.setup(j.answer, m).Notes, report.AsRun(asRun)...)
	for _, path := range c.Operands {
		p.setup.Notes = append(p.setup.Notes, c.macroNotes(path, path, nil)...)
	}
	switch {
	case c.On("json"):
		return report.PairJSON(c.out, p.setup)
	case c.On("quiet"):
		chosen := p.setup.Plan.Orders[p.run.Chosen]
		return c.quietly(p.setup, fmt.Sprintf("%d tool changes, %.0f s a cycle, %.1f parts an hour\n", chosen.Changes, chosen.Seconds, chosen.PerHour))
	}
	if err := report.Terminal(c.out, p.setup, c.terminal()); err != nil || dir == "" {
		return err
	}
	return c.listFiles(dir, changes)
}

// ownOffsets takes the offsets that the programs name where none is said, each free and
// the back's not the face's.
func (c *call) ownOffsets(m *ask.Machine, sources []cycle.Source) error {
	tolerance, err := c.arcTolerance()
	if err != nil {
		return err
	}
	free := m.Free(c.jobName())
	for i, flag := range []string{"offset", "back-offset"} {
		if c.Given(flag) {
			continue
		}
		name, line := sources[i].Offset(motion.FromDecimal(tolerance))
		face := strings.ToUpper(c.Text("offset"))
		if !slices.Contains(free, face) && !c.Given("offset") && len(free) > 0 {
			face = free[0]
		}
		if slices.Contains(free, name) && (i == 0 || name != face) {
			c.Put(flag, fmt.Sprintf("%s:%d", sources[i].Name, line), []string{name})
		}
	}
	return nil
}

// source reads a program to be merged.
func (c *call) source(path string) (cycle.Source, error) {
	in, name, err := c.open(path)
	if err != nil {
		return cycle.Source{}, err
	}
	text, err := io.ReadAll(in)
	if err != nil {
		return cycle.Source{}, fmt.Errorf("%s: %w", name, err)
	}
	return c.sourceOf(name, text)
}

// sourceOf is a text to be merged, read as the flags say.
func (c *call) sourceOf(name string, text []byte) (cycle.Source, error) {
	o, err := c.motionOptions(name)
	return cycle.Source{Name: name, Text: text, Unit: o.Unit, AbsoluteCentres: o.AbsoluteCentres, Inert: o.Inert}, err
}
