package cycle

// runs gives a program's pieces by calls of a tool: pieces that follow each other
// with one tool are one run.
func (p *program) runs(side int) []step {
	var out []step
	for _, pc := range p.pieces {
		if len(out) == 0 || out[len(out)-1].tool != pc.tool {
			out = append(out, step{tool: pc.tool})
		}
		last := &out[len(out)-1]
		last.pieces[side] = append(last.pieces[side], pc)
	}
	return out
}

// joinEqual joins steps that follow each other with one tool.
func joinEqual(steps []step) []step {
	var out []step
	for _, s := range steps {
		if len(out) == 0 || out[len(out)-1].tool != s.tool || out[len(out)-1].pieces[1] != nil && s.pieces[0] != nil {
			out = append(out, s)
			continue
		}
		last := &out[len(out)-1]
		for side := range 2 {
			last.pieces[side] = append(last.pieces[side][:len(last.pieces[side]):len(last.pieces[side])], s.pieces[side]...)
		}
	}
	return out
}

// mergeRuns interleaves the runs of two sides, each in its own order, so that the
// tool changes as seldom as can be: the tools called are a shortest common
// supersequence of the two sequences. Of several, one that begins and ends with
// the same tool is taken, since the next cycle then starts without a change.
func mergeRuns(a, b []step) []step {
	var best []step
	for _, first := range []int{a[0].tool, b[0].tool} {
		for _, last := range []int{a[len(a)-1].tool, b[len(b)-1].tool} {
			s := between(a, b, first, last)
			if s == nil {
				continue
			}
			wraps := s[0].tool == s[len(s)-1].tool
			if best == nil || len(s) < len(best) || len(s) == len(best) && wraps && best[0].tool != best[len(best)-1].tool {
				best = s
			}
		}
	}
	return best
}

// between gives a shortest merge that begins and ends with the given tools, or nil.
func between(a, b []step, first, last int) []step {
	var head, tail []step
	take := func(tool int, at func([]step) int) (s step, ok bool) {
		s.tool = tool
		for side, list := range []*[]step{&a, &b} {
			if len(*list) == 0 {
				continue
			}
			if i := at(*list); (*list)[i].tool == tool {
				s.pieces[side] = (*list)[i].pieces[side]
				*list = append(append([]step{}, (*list)[:i]...), (*list)[i+1:]...)
				ok = true
			}
		}
		return s, ok
	}
	s, ok := take(first, func([]step) int { return 0 })
	if !ok {
		return nil
	}
	head = append(head, s)
	if len(a)+len(b) > 0 {
		if s, ok = take(last, func(l []step) int { return len(l) - 1 }); !ok {
			return nil
		}
		tail = append(tail, s)
	} else if first != last {
		return nil
	}
	return append(append(head, shortest(a, b)...), tail...)
}

// shortest is a shortest common supersequence of two sequences of tools, by the
// usual table: rest[i][j] is the least length for a[i:] and b[j:].
func shortest(a, b []step) []step {
	rest := make([][]int, len(a)+1)
	for i := len(a); i >= 0; i-- {
		rest[i] = make([]int, len(b)+1)
		for j := len(b); j >= 0; j-- {
			switch {
			case i == len(a):
				rest[i][j] = len(b) - j
			case j == len(b):
				rest[i][j] = len(a) - i
			case a[i].tool == b[j].tool:
				rest[i][j] = 1 + rest[i+1][j+1]
			default:
				rest[i][j] = 1 + min(rest[i+1][j], rest[i][j+1])
			}
		}
	}
	var out []step
	for i, j := 0, 0; i < len(a) || j < len(b); {
		switch {
		case i < len(a) && j < len(b) && a[i].tool == b[j].tool:
			out = append(out, step{tool: a[i].tool, pieces: [2][]*piece{a[i].pieces[0], b[j].pieces[1]}})
			i, j = i+1, j+1
		case j == len(b) || i < len(a) && rest[i+1][j] <= rest[i][j+1]:
			out = append(out, a[i])
			i++
		default:
			out = append(out, b[j])
			j++
		}
	}
	return out
}
