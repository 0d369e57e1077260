package reading

import (
	"math"

	"knifedesk/jobs/workshop"
)

// Fits reports whether w × h mm lies on the stock in either turn. A stock that
// is not given holds everything; so does a roll along its feed where its
// length is not known.
func Fits(s workshop.Stock, w, h float64) bool {
	if s.WidthMM <= 0 {
		return true
	}
	length := s.LengthMM
	if length <= 0 {
		length = math.Inf(1)
	}
	const slack = AcceptMM
	lies := func(w, h float64) bool { return w <= s.WidthMM+slack && h <= length+slack }
	return lies(w, h) || lies(h, w)
}
