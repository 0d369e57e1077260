package meaning

import (
	"knifedesk/geometry/artwork"
	"knifedesk/geometry/finding"
	"knifedesk/geometry/workshop"
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

// material checks what the strokes ask of the material and its hold.
func (k *desk) material() {
	through := 0
	for i := range k.strokes {
		if k.strokes[i].Operation == artwork.ThroughCut {
			through++
		}
	}
	if through > 0 && k.req.Stock.Hold == workshop.Rollers {
		k.note(finding.New(finding.ThroughCutUnheld, through, map[string]any{"stock": k.req.Stock.Name}))
	}
}
