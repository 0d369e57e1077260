package layout

import (
	"math"

	"knifedesk/jobs/workshop"
)

// Waste is one of the three shares that are all called waste.
type Waste struct {
	Name  string  `json:"name"`  // nest, art or process
	Share float64 `json:"share"` // from 0 to 1
	Means string  `json:"means"` // what it is a share of, in a sentence
}

// wastes puts the three shares of a usage in words.
func (u *Usage) wastes(req Request) {
	art := "Of that rectangle, what is not kept: it is peeled away, falls out, or lies between the copies."
	process := "Of the sheets taken, what is not kept: edges, gaps, what falls out, and what is left over."
	if req.Stock.Form == workshop.Roll {
		process = "Of the film drawn off the roll, over its whole width, what is not kept: lead and tail, edges, gaps, and what is peeled away."
	}
	if req.Stencil {
		art = "Of that rectangle, what is no stencil: the openings, and what lies between the copies."
		process = "Of the stock taken, what is no stencil: openings, edges, and what is left over."
	}
	u.Wastes = []Waste{
		{"nest", u.NestWaste, "Of the rectangle round all copies, what lies between them."},
		{"art", u.ArtWaste, art},
		{"process", u.ProcessWaste, process},
	}
}

// waste is the share of what was taken that is not kept.
func waste(kept, taken float64) float64 {
	if taken <= 0 {
		return 0
	}
	return math.Max(0, 1-kept/taken)
}
