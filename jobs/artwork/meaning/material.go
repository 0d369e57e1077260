package meaning

import (
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/workshop"
)

// operations returns what a family of materials lets the machine do (table of
// material families; common practice), the likeliest first.
func operations(f workshop.Family) []workshop.Meaning {
	switch f {
	case workshop.Paper, workshop.LightCard, workshop.HeavyCard:
		return []workshop.Meaning{workshop.MeansCut, workshop.MeansScore, workshop.MeansPerforate, workshop.MeansPen}
	}
	return []workshop.Meaning{workshop.MeansCut}
}

// operation returns the operation of a meaning on a stock: film on a liner is
// kiss cut, everything else is cut through.
func operation(m workshop.Meaning, s *workshop.Stock) artwork.Operation {
	switch m {
	case workshop.MeansPen:
		return artwork.Pen
	case workshop.MeansScore:
		return artwork.Score
	case workshop.MeansPerforate:
		return artwork.Perforate
	}
	if s.Liner {
		return artwork.KissCut
	}
	return artwork.ThroughCut
}
