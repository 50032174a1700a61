package report

func (s *Setup) turnFigure() Figure { return Figure{ID: "turn"} }
func (s *Setup) bedFigure() Figure  { return Figure{ID: "bed"} }
func (s *Setup) pathFigure() Figure { return Figure{ID: "paths"} }
func (s *Setup) webFigure() Figure  { return Figure{ID: "web"} }
