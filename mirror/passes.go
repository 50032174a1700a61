package mirror

import (
	"hash/fnv"
	"io"
	"slices"

	"github.com/shopspring/decimal"

	"flipcalc/mirror/block"
	"flipcalc/mirror/transform"
)

// Of the passes over one path either all are reversed or none, so that no groove gets
// passes of both kinds. A pass that can't be reversed, such as the last one of an outline
// with its tabs, may come after others that can; so a program whose cuts are to be
// reversed is read once more before it is mirrored.
//
// Two chains run over the same path where they share two points in X and Y: a tab adds
// points to an outline and takes none away. Of an arc its centre counts as well, so that
// circles share a start and a centre. Of a point that many chains share one is enough.

// manyShare is how many groups of chains may share a point without becoming one.
const manyShare = 16

// passes is what is known of a program's chains beforehand.
type passes struct {
	done      bool
	owners    map[uint64][]int32 // chains at a point, by the point's hash
	group     []int32            // chain to one of its group, itself at the root
	left      []bool             // at the root: one of the group is left
	chain     map[int]int32      // by the line of the first cut, where it could be reversed
	clearance [2]*decimal.Decimal
}

// readPasses keeps the program and reads it once, or twice where the top of the work isn't
// known. It hands back a reader for the program from its start and a function that frees it.
func readPasses(in io.Reader, o *Options) (again io.Reader, free func(), err error) {
	if !o.ReverseCuts || !o.Map.OneAxis() {
		return in, func() {}, nil
	}
	text := &Spool{}
	if _, err := io.Copy(text, in); err != nil {
		return nil, text.Close, err
	}
	known := &passes{done: true}
	readings := 1
	if o.Top == nil {
		readings = 2
	}
	for ; readings > 0; readings-- {
		s := &passes{clearance: known.clearance, owners: map[uint64][]int32{}, chain: map[int]int32{}}
		first := *o
		first.Progress, first.passes = nil, s
		r := block.NewReader(text.Content())
		m, err := newRewriter(r, &first)
		var out []byte
		for err == nil { // what is wrong is told when the program is mirrored
			_, out, err = m.next(r, out)
		}
		s.done, s.owners = true, nil
		known = s
	}
	o.passes = known
	return text.Content(), text.Close, nil
}

// rapid takes a rapid aside: the greatest height of all is the clearance.
func (s *passes) rapid(l *chainText) {
	if s == nil || s.done || !l.from[2].ok || !l.to[2].ok {
		return
	}
	z := decimal.Min(l.from[2].v, l.to[2].v)
	if c := s.clearance[l.unit]; c == nil || z.GreaterThan(*c) {
		s.clearance[l.unit] = &z
	}
}

// take takes the cuts of a chain, or of the rest of the last one.
func (s *passes) take(cuts []chainText, left, rest bool) {
	if s == nil || s.done {
		return
	}
	id := int32(len(s.group)) - 1
	if !rest || id < 0 {
		id++
		s.group, s.left = append(s.group, id), append(s.left, false)
	}
	if !left { // what is left has a reason of its own
		s.chain[cuts[0].line] = id
	}
	root := s.root(id)
	s.left[root] = s.left[root] || left
	points := map[uint64]bool{}
	for i := range cuts {
		cuts[i].points(points)
	}
	shared := map[int32]int{}
	for p := range points {
		for _, other := range s.rooted(p) {
			shared[other]++
		}
	}
	for other, n := range shared {
		if n > 1 {
			s.join(id, other)
		}
	}
	for p := range points {
		owners := append(s.rooted(p), s.root(id))
		if len(owners) > manyShare {
			for _, other := range owners {
				s.join(id, other)
			}
		}
		s.owners[p] = owners
	}
}

// root gives the chain that stands for a chain's group.
func (s *passes) root(id int32) int32 {
	for s.group[id] != id {
		s.group[id] = s.group[s.group[id]]
		id = s.group[id]
	}
	return id
}

// rooted gives the groups at a point, each once.
func (s *passes) rooted(point uint64) []int32 {
	owners := s.owners[point]
	for i := range owners {
		owners[i] = s.root(owners[i])
	}
	slices.Sort(owners)
	return slices.Compact(owners)
}

func (s *passes) join(a, b int32) {
	a, b = s.root(a), s.root(b)
	s.group[b] = a
	s.left[a] = s.left[a] || s.left[b]
}

// leaves reports whether a chain that could be reversed must be left for another.
func (s *passes) leaves(line int) bool {
	if s == nil || !s.done {
		return false
	}
	id, ok := s.chain[line]
	return ok && s.left[s.root(id)]
}

// points adds hashes of the ends of a cut and of its centre.
func (c *chainText) points(all map[uint64]bool) {
	add := func(kind byte, x, y decimal.Decimal) {
		h := fnv.New64a()
		h.Write([]byte{kind, byte(c.unit)})
		io.WriteString(h, x.String()+" "+y.String())
		all[h.Sum64()] = true
	}
	for _, p := range [2]*[3]coordinate{&c.from, &c.to} {
		if p[0].ok && p[1].ok {
			add('p', p[0].v, p[1].v)
		}
	}
	if c.arc {
		// Of several arcs on one circle centres differ by the last digits.
		places := map[transform.Unit]int32{transform.MM: 2, transform.Inch: 3}[c.unit]
		add('c', c.centre[0].Round(places), c.centre[1].Round(places))
	}
}

// cutsOf gives the cuts among the lines of a held chain.
func (r *reverser) cutsOf() (cuts []chainText) {
	for i := r.first; i <= r.last; i++ {
		if r.lines[i].kind == lineCut {
			cuts = append(cuts, r.lines[i])
		}
	}
	return cuts
}
