package cycle

import (
	"crypto/sha256"
	"encoding/binary"
	"hash"

	"flipcalc/mirror/motion"
)

// digest sums up the motions of a piece, exactly: two pieces with the same digest
// and number of moves make the same motions.
type digest struct {
	h     hash.Hash
	buf   []byte
	moves int
}

func (d *digest) reset() {
	if d.h == nil {
		d.h = sha256.New()
	}
	d.h.Reset()
	d.moves = 0
}

func (d *digest) value() (v [32]byte) {
	copy(v[:], d.h.Sum(nil))
	return v
}

// idle reports whether a move moves nothing, or only brings X or Y to their first
// place, as a rapid or, at a height that isn't known yet, as a feed; see add.
func idle(m *motion.Move, namesZ bool) bool {
	if m.Circular() || m.Machine || m.Home || namesZ && m.Cycle == 0 || !m.From[2].Equal(m.To[2]) {
		return false
	}
	for a := range 2 {
		first := m.ToOK[a] && !m.FromOK[a] && (m.Kind == motion.Rapid || !m.ToOK[2])
		if !first && !m.From[a].Equal(m.To[a]) {
			return false
		}
	}
	return true
}

// add takes a move. The start of move i is at 2i, its end at 2i+1, and an axis
// counts from live[axis] on, where it first has a place. The work offset is left
// out: it is what a station changes. The tool length counts for moves whose Z
// does; the others go by it nowhere. namesZ tells whether the block has a Z word.
//
// Moves that move nothing are left out. So are those that only bring X or Y to
// their first place, since the merged piece starts over that place: there they
// move nothing, or a cycle doesn't make them at all.
func (d *digest) add(m *motion.Move, live *[3]int, namesZ bool) {
	if idle(m, namesZ) {
		return
	}
	s := &m.State
	b := d.buf[:0]
	length := -1
	if m.ToOK[2] && !m.Machine && 2*d.moves+1 >= live[2] {
		length = s.Length
	}
	for _, v := range []int{int(m.Kind), b2i(m.Machine), b2i(m.Home), m.Cycle, m.Turns, b2i(m.ByRadius), int(s.Unit), int(s.Plane),
		s.Tool, length, s.Spindle, s.FeedMode, s.Comp, int(s.Coolant)} {
		b = binary.AppendVarint(b, int64(v))
	}
	b = number(b, s.Speed, s.Spindle != 0)
	b = number(b, s.Feed, m.Kind != motion.Rapid)
	for a := range 3 {
		b = number(b, m.From[a], m.FromOK[a] && 2*d.moves >= live[a])
		b = number(b, m.To[a], m.ToOK[a] && (m.Machine || 2*d.moves+1 >= live[a]))
	}
	if m.Circular() {
		for k := range 2 {
			b = number(b, m.Centre[k], !m.ByRadius)
		}
		b = number(b, m.Radius, m.ByRadius)
	}
	d.h.Write(b)
	d.buf = b
	d.moves++
}

// number adds an exact number, or a mark that it doesn't count.
func number(b []byte, n motion.Num, counts bool) []byte {
	if !counts {
		return append(b, 0)
	}
	if v, ok := n.Nano(); ok {
		return binary.AppendVarint(append(b, 1), v)
	}
	s := n.Rat().RatString()
	b = binary.AppendVarint(append(b, 2), int64(len(s)))
	return append(b, s...)
}
