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

// offered are the meanings that lines can be given on a stock.
type offered struct {
	meanings []workshop.Meaning
	liner    bool
}

// explained says what a meaning does to the stock, in words that need no training.
func (o offered) explained(m workshop.Meaning) string {
	switch m {
	case workshop.MeansPen:
		return "A pen draws it; nothing is cut."
	case workshop.MeansScore:
		return "A groove that is not cut through, to fold along."
	case workshop.MeansPerforate:
		return "A row of short cuts, to tear along."
	case workshop.MeansNothing:
		return "Nothing is done there."
	}
	if o.liner {
		return "The knife goes through the film and leaves the backing paper (the liner) whole."
	}
	return "The knife goes right through."
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
