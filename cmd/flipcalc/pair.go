package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"flipcalc/mirror/cycle"
	"flipcalc/mirror/motion"
	"flipcalc/report"
)

var pairVerb = &verb{
	name: "pair", operands: "FACE BACK [BACK...]", least: 2, most: 9,
	does: "merges a face and a back program into one program per cycle",
	run:  runPair,
	examples: []example{
		{"a face and a back that is mirrored already, G54 and G55, written into a folder", "flipcalc pair face.nc back.nc --clear -5 -o run"},
		{"40 row markers on two pairs of stations, as the job and machine files have them", "flipcalc pair face.nc back.nc --job job.toml --pairs 2 --longest 45 --parts 40"},
		{"faces, then backs, so that the idle station can be loaded behind its guard", "flipcalc pair face.nc back.nc --clear -5 --order stations --load guarded --load-time 45 -o run"},
	},
}

func runPair(c *call) error {
	dir := c.text("output")
	if dir == "-" {
		return wrong("-o", "-", "a folder", "pair writes three programs, "+runFiles[0]+", "+runFiles[1]+" and "+runFiles[2])
	}
	var sources []cycle.Source
	var asRun []cycle.Source // backs that nothing says are ready
	for i, path := range c.operands {
		if path == "-" && slices.Contains(c.operands[:i], "-") {
			return wrong("-", "standard input named twice", "one program from standard input", "")
		}
		if i > 0 {
			for _, drawn := range c.texts("mirror") {
				if path != "-" && sameFile(path, drawn) {
					return wrong(path, "a program that the job file says is to be mirrored", "the mirrored program", "prepare writes it, as "+outName(path, "mirror")+", or flipcalc mirror does")
				}
			}
		}
		src, err := c.source(path)
		if err != nil {
			return err
		}
		sources = append(sources, src)
		if i > 0 && !slices.ContainsFunc(c.texts("back"), func(b string) bool { return path != "-" && sameFile(path, b) }) {
			asRun = append(asRun, src)
		}
	}
	m, err := c.machine()
	if err != nil {
		return err
	}
	if err := c.ownOffsets(m, sources); err != nil {
		return err
	}
	j := &job{machine: m}
	if c.given("stock") || c.given("measured") || c.given("pairs") {
		// Stations are placed for the programs that are merged, and for the job's
		// own, so that they lie where the job's other files have them.
		c.flags["face"].vals = append(slices.Clone(c.texts("face")), c.operands[0])
		c.flags["back"].vals = append(slices.Clone(c.texts("back")), c.operands[1:]...)
		if j.answer, err = c.solve(m); err != nil {
			return err
		}
		if m.known || c.given("pairs") {
			if err := c.stand(j); err != nil {
				return err
			}
		}
		if a := j.answer; a.BackCorner != nil && a.FaceMachine == a.Machine && a.SamePlace() {
			return wrong("", "face and back lie at one and the same place", "two stations, since each cycle cuts a face and a back",
				"place pairs with --pairs, or say where the back's locators stand")
		}
	}
	back := sources[1]
	back.Then = sources[2:]
	p, err := c.produce(m, j.answer, j.layout, sources[0], back)
	if err != nil {
		for i, path := range c.operands {
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
	if c.on("bare") && dir != "" {
		c.cautions()
	}
	p.setup.Notes = append(c.setup(j.answer, m).Notes, report.AsRun(asRun)...)
	for _, path := range c.operands {
		p.setup.Notes = append(p.setup.Notes, c.macroNotes(path, path, nil)...)
	}
	switch {
	case c.on("json"):
		return report.PairJSON(c.out, p.setup)
	case c.on("quiet"):
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
func (c *call) ownOffsets(m *machine, sources []cycle.Source) error {
	tolerance, err := c.arcTolerance()
	if err != nil {
		return err
	}
	free := m.Free(c.jobName())
	for i, flag := range []string{"offset", "back-offset"} {
		if c.given(flag) {
			continue
		}
		name, line := sources[i].Offset(motion.FromDecimal(tolerance))
		face := strings.ToUpper(c.text("offset"))
		if !slices.Contains(free, face) && !c.given("offset") && len(free) > 0 {
			face = free[0]
		}
		if slices.Contains(free, name) && (i == 0 || name != face) {
			c.flags[flag].vals, c.flags[flag].where = []string{name}, fmt.Sprintf("%s:%d", sources[i].Name, line)
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
