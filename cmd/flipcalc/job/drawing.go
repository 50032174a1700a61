package job

import (
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
	for _, run := range j.runs {
		if run.pair > 0 || run.back && j.Answer.ToTouch() {
			continue
		}
		path, err := draw.Trace(again(run.content), j.reading(run.name), u, traceStep, 0)
		if err != nil {
			return err
		}
		side, turn := &d.Face, j.Answer.FaceTurn.Degrees()
		if run.back {
			side, turn = &d.Back, j.Answer.BackTurn
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
