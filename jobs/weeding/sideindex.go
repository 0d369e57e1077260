package weeding

import (
	"math"
	"math/bits"

	"knifedesk/geometry"
)

// sideIndex finds sides by their ends: a table with open addressing, as large maps
// of four numbers take most of the time of what uses them.
type sideIndex struct {
	all   []borderSide
	slots []int32 // one more than the place in all, 0 for none
	shift int
}

func newSideIndex(all []borderSide) sideIndex {
	log := bits.Len(uint(2 * len(all)))
	return sideIndex{all, make([]int32, 1<<log), 64 - log}
}

// slot returns where the side between two points is, or would be put.
func (x *sideIndex) slot(from, to geometry.Point) int {
	h := uint64(0)
	for _, v := range [4]float64{from.X, from.Y, to.X, to.Y} {
		h = (bits.RotateLeft64(h, 5) ^ math.Float64bits(v+0)) * 0x9e3779b97f4a7c15 // +0 makes one of both zeros
	}
	for i := int(scatter(h) >> x.shift); ; i = (i + 1) & (len(x.slots) - 1) {
		if k := x.slots[i]; k == 0 || x.all[k-1].from == from && x.all[k-1].to == to {
			return i
		}
	}
}

// find returns the place of a side, -1 for none.
func (x *sideIndex) find(from, to geometry.Point) int { return int(x.slots[x.slot(from, to)]) - 1 }

// add puts in a side of all.
func (x *sideIndex) add(i int) { x.slots[x.slot(x.all[i].from, x.all[i].to)] = int32(i + 1) }
