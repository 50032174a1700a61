package cut

import (
	"slices"
	"sort"
)

// Of what a side cuts the deep strokes are kept for the study of through cuts and the rest, as
// far as there is room, for the least web.

// maxKept bounds how many strokes of a side are kept for the study of through
// cuts: some 50 MB.
const maxKept = 400_000

// keptDepth is the share of the thickness from which on strokes are kept.
const keptDepth = 0.1

// spare keeps a stroke that isn't kept for the study of through cuts: for the least web,
// which the deepest strokes make. Where there are too many the shallower half goes.
func (r *run) spare(k *stroke, low float64) {
	if low >= r.lost {
		return
	}
	r.light = append(r.light, *k)
	if len(r.light) < r.most {
		return
	}
	lows := make([]float64, len(r.light))
	for i := range r.light {
		lows[i] = r.light[i].bottom()
	}
	slices.Sort(lows)
	r.lost = lows[len(lows)/2]
	room := len(lows) / 4 // for those that lie at that very height
	r.light = slices.DeleteFunc(r.light, func(k stroke) bool {
		if k.bottom() == r.lost && room > 0 {
			room--
			return false
		}
		return k.bottom() >= r.lost
	})
}

// strokes are strokes in the order of their lines.
type strokes []stroke

// from gives the first one of a line or behind it.
func (l strokes) from(line int) int {
	return sort.Search(len(l), func(i int) bool { return int(l[i].line) >= line })
}

// on gives those of a line.
func (l strokes) on(line int) strokes { return l[l.from(line):l.from(line+1)] }
