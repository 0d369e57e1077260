package api

import (
	"knifedesk/jobs/artwork"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/size"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// readChoices returns what a body of JSON chooses.
func readChoices(r PlanRequest) plan.Choices {
	return plan.Choices{
		Stock: r.StockID, Machine: r.MachineID, Convention: r.ConventionID, PriceList: r.PriceListID,
		Purpose: weeding.Purpose(r.Purpose), Size: readSizeChoice(r.Size), Copies: r.Copies, Mirror: r.Mirror,
		Options: readOptions(r.Options), Replies: readReplies(r.Answers), Turned: r.Turned, Batch: r.Batch,
		Film: r.Film, Meet: artwork.Meeting(r.Meet), UnderlapMM: r.UnderlapMM,
	}
}

// readFilms returns the films of a layered work.
func readFilms(all []FilmChoice) ([]plan.FilmChoice, error) {
	var out []plan.FilmChoice
	for _, f := range all {
		colour, err := readColour(f.Colour)
		if err != nil {
			return nil, unprocessable("films", "invalid_body", "A colour has a form that is not taken here.", "Write a colour such as #007c91.")
		}
		out = append(out, plan.FilmChoice{Stock: f.StockID, Layer: f.Layer, Colour: colour})
	}
	return out, nil
}

func readSizeChoice(s SizeChoice) plan.Size {
	return plan.Size{Frame: s.Frame, KnownLength: maybe(s.KnownLength, readKnownLength), Unit: string(s.Unit), Scale: s.Scale}
}

func readKnownLength(k KnownLength) size.KnownLength {
	return size.KnownLength{Of: string(k.Of), MM: k.MM}
}

func readOptions(o Options) plan.Options {
	out := plan.Options{
		NoBorder: o.NoBorder, NoRelief: o.NoRelief, NoBridges: o.NoBridges, Novice: o.Novice, OneTurn: o.OneTurn, PiecesMove: o.PiecesMove, OneBorder: o.OneBorder, OnWall: o.OnWall, Page: o.Page,
		Hold: workshop.Hold(o.Hold), Nesting: layout.Nesting(o.Nesting), Panels: layout.Allowance(o.Panels),
	}
	for _, mend := range o.MendsOff {
		out.MendsOff = append(out.MendsOff, string(mend))
	}
	return out
}
