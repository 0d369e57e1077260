package rect

import (
	"cmp"
	"math"
	"slices"

	"knifedesk/geometry/budget"
)

// search looks for sequences that pack well.
type search struct {
	*packer
	low    int64 // no packing is shorter
	best   Packing
	orders [][]int
	steps  *budget.Budget // that may still be taken
	random random
}

// random is a generator of swaps: splitmix64 by Steele, Lea and Flood (OOPSLA 2014),
// which starts from any seed.
type random uint64

// below returns a number from 0 to n − 1. That the first few come up more often by
// n in 2⁶⁴ does not matter here.
func (r *random) below(n int) int {
	*r += 0x9e3779b97f4a7c15
	z := uint64(*r)
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return int((z ^ z>>31) % uint64(n))
}

// endless is an end that no packing reaches.
const endless = math.MaxInt64 / 4

// start packs the sequences by area, length, width, girth and longer side.
func (s *search) start() {
	s.packer.budget = s.steps
	s.best.Height = endless
	for _, by := range []func(Item) int64{
		Item.area,
		func(i Item) int64 { return i.H<<31 + i.W },
		func(i Item) int64 { return i.W<<31 + i.H },
		func(i Item) int64 { return i.W + i.H },
		func(i Item) int64 { return max(i.W, i.H) },
	} {
		order := make([]int, len(s.items))
		for i := range order {
			order[i] = i
		}
		slices.SortStableFunc(order, func(p, q int) int { return cmp.Compare(by(s.items[q]), by(s.items[p])) })
		s.orders = append(s.orders, order)
		if s.pack(order, endless, endless) == 0 {
			s.keep()
		}
	}
}

// keep takes the packing that was just built where it is shorter than the best.
func (s *search) keep() {
	if h := s.line.top(); h < s.best.Height {
		s.best = Packing{slices.Clone(s.places), h}
	}
}

// firstTries is how many swaps a sequence is given at first without getting better.
const firstTries = 8

// shorten tries ends between the bound and the best, halving the range, and again with
// twice as many swaps, until the steps are spent.
func (s *search) shorten() {
	for tries := firstTries; s.best.Height > s.low && !s.steps.Over() && tries < math.MaxInt32; tries *= 2 {
		for low := s.low; low < s.best.Height && !s.steps.Over(); {
			end := low + (s.best.Height-1-low)/2
			if !s.reach(end, tries) {
				low = end + 1
			}
		}
	}
}

// reach reports whether all items were packed below an end: each sequence is swapped
// as long as no more is left out, and until so many swaps have gained nothing.
func (s *search) reach(end int64, tries int) bool {
	for _, order := range s.orders {
		left := s.pack(order, end, endless)
		for try := 0; left > 0 && try < tries && !s.steps.Over(); try++ {
			i, j := s.random.below(len(order)), s.random.below(len(order))
			if i == j {
				continue
			}
			order[i], order[j] = order[j], order[i]
			switch now := s.pack(order, end, left); {
			case now > left:
				order[i], order[j] = order[j], order[i]
			case now < left:
				left, try = now, 0
			}
		}
		if left == 0 {
			s.keep()
			return true
		}
	}
	return false
}
