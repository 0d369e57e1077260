package api

import (
	"github.com/google/uuid"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/films"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/view"
)

func showStackSummary(s view.Stack) StackSummary {
	return StackSummary{
		Films: each(s.Films, showStackFilm), Place: s.Place, Meet: Meeting(s.Meet), UnderlapMM: s.UnderlapMM, Marks: s.Marks,
		Apply: []string{s.Edges(), s.Apply()}, Together: maybe(s.Together, showTogether),
	}
}

func showStackFilm(f view.StackFilm) StackFilm {
	out := StackFilm{Film: f.Film, StockID: f.Stock, Name: f.Name, Colour: f.Colour, Rules: each(f.Rules, showFilmRule), Status: PlanStatus(f.Status), TotalText: f.Price, AreaMM2: f.AreaMM2, ShownMM2: f.ShownMM2}
	if id, err := uuid.Parse(f.Plan); err == nil {
		out.PlanID = &id
	}
	return out
}

func showFilmRule(r films.Rule) FilmRule {
	return FilmRule{Layer: r.Layer, Colour: showColour(r.Colour)}
}

func showTogether(s estimate.Sum) Together {
	return Together{
		CutterMin: showMinutes(s.CutterMin), BenchMin: showMinutes(s.BenchMin),
		TotalMinor: s.TotalMinor, Currency: s.Currency, TotalText: s.TotalText,
	}
}

func showStack(s artwork.Stack) Stack {
	return Stack{
		Layers: eachAt(s.Layers, showStackLayer), Place: s.At + 1, Meet: Meeting(s.Meet), UnderlapMM: s.UnderlapMM,
		Work: showBox(s.Work), Marks: each(s.Marks, showPath),
	}
}

func showStackLayer(l *artwork.Layer) StackLayer {
	return StackLayer{
		Film: l.Film, StockID: l.Stock, Name: l.Name, Colour: showColour(l.Colour), Area: each(l.Area, showPath),
		AreaMM2: l.AreaMM2, ShownMM2: l.ShownMM2,
	}
}
