package job

import (
	"bytes"
	"strings"

	"flipcalc/report"
	"flipcalc/report/draw"
)

// traceStep is how fine the drawings follow the tool, in mm: finer than a pen's
// line on paper at any scale that fits a page.
const traceStep = 0.1

// addDrawings traces the programs of the first pair for the drawings.
func (j *Job) addDrawings() error {
	d := &report.Drawings{}
	u := j.Answer.Question.Unit
	for _, p := range j.Setup.Programs {
		if p.Role == "offsets" || strings.HasPrefix(p.Name, "pair") && !strings.HasPrefix(p.Name, "pair1-") {
			continue
		}
		var content []byte
		for _, f := range j.Files {
			if f.Name == p.Name {
				content = f.Content
			}
		}
		path, err := draw.Trace(bytes.NewReader(content), j.reading(p.Name), u, traceStep, 0)
		if err != nil {
			return err
		}
		side, turn := &d.Back, j.Answer.BackTurn
		if p.Role == "face" {
			side, turn = &d.Face, j.Answer.FaceTurn.Degrees()
		}
		path.Turn(-turn.InexactFloat64()) // on the blank, however that lies
		if *side == nil {
			*side = &draw.Path{}
		}
		(*side).Strokes = append((*side).Strokes, path.Strokes...)
		(*side).Plunges = append((*side).Plunges, path.Plunges...)
		(*side).Cut = (*side).Cut || path.Cut
	}
	j.Setup.Drawings = d
	return nil
}
