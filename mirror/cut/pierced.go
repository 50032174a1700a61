package cut

// pierce adds a hole that no cell shows, made by a stroke of each side or of one.
func (s *study) pierce(v float64, at Spot, made [2]*stroke) {
	x, y := at.X, at.Y
	for n := range s.pierced {
		p := &s.pierced[n]
		if !s.joined(s.piercing[n], x, y) && !s.joined(made, p.X, p.Y) {
			continue
		}
		if -v > p.Overlap {
			p.Overlap, p.X, p.Y = -v, x, y
		}
		return
	}
	// Its size, from places around that get farther apart until it lies among them.
	const n = 40
	area, apart := 0.0, s.g.Cell/n
	for range 8 {
		count, edge := 0, false
		for j := -n; j <= n; j++ {
			for i := -n; i <= n; i++ {
				if s.joined(made, x+float64(i)*apart, y+float64(j)*apart) {
					count++
					edge = edge || i == -n || i == n || j == -n || j == n
				}
			}
		}
		area = float64(count) * apart * apart
		if !edge {
			break
		}
		apart *= 2
	}
	s.pierced, s.piercing = append(s.pierced, Island{Spot: at, Area: area, Overlap: max(0, -v)}), append(s.piercing, made)
}

// joined says whether a place lies in the hole that strokes make.
func (s *study) joined(made [2]*stroke, x, y float64) bool {
	left := s.g.T
	for _, k := range made {
		if k == nil {
			continue
		}
		h, ok := k.surface(x, y)
		if !ok {
			return false
		}
		left += h
	}
	return left <= throughSlack
}
