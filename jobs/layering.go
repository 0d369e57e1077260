package jobs

import (
	"cmp"
	"fmt"
	"slices"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/films"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// mostFilms bounds the films of a layered work.
const mostFilms = 8

// Layered returns the choices for each film of a layered work, in the order in which the
// films were named: by the caller, or, where that says nothing of films or of a stock, by
// the rules of the convention. Of a work that is not layered it returns the choices
// themselves.
func Layered(w workshop.Data, c plan.Choices) []plan.Choices {
	if len(c.Films) == 0 && c.Stock == "" {
		c.Films = filmsOf(w, c)
	}
	if len(c.Films) == 0 || c.Film != 0 {
		return []plan.Choices{c}
	}
	var all []plan.Choices
	for i := range stocksOf(c.Films) {
		one := c
		one.Film = i + 1
		all = append(all, one)
	}
	return all
}

// filmsOf lists the films that the rules of the chosen convention name.
func filmsOf(w workshop.Data, c plan.Choices) []plan.FilmChoice {
	convention, ok := w.Convention(orFirst(c.Convention, w.Conventions, func(v workshop.Convention) string { return v.ID }))
	if !ok {
		return nil
	}
	var all []plan.FilmChoice
	for _, r := range convention.Rules {
		if r.Film != "" {
			all = append(all, plan.FilmChoice{Stock: r.Film, Layer: r.Layer, Colour: r.Colour})
		}
	}
	return all
}

// stocksOf lists the stocks of films, each once, in the order in which they are named.
func stocksOf(all []plan.FilmChoice) []string {
	var stocks []string
	for _, f := range all {
		if !slices.Contains(stocks, f.Stock) {
			stocks = append(stocks, f.Stock)
		}
	}
	return stocks
}

// chooseLayering returns the films of a layered work and the choices for the one that is
// cut, nil for a work of one film.
func chooseLayering(w workshop.Data, c plan.Choices) (*films.Layering, plan.Choices, error) {
	if len(c.Films) == 0 {
		if c.Films = filmsOf(w, c); len(c.Films) > 0 {
			c.Film = max(c.Film, slices.Index(stocksOf(c.Films), c.Stock)+1)
		}
		if len(c.Films) == 0 || c.Film == 0 { // the stock is none of these films: all is cut from it
			return nil, c, checkUnlayered(c)
		}
	}
	stocks := stocksOf(c.Films)
	l := &films.Layering{Cut: max(c.Film, 1), Meet: cmp.Or(c.Meet, artwork.Underlap)}
	switch {
	case len(stocks) < 2 || len(stocks) > mostFilms:
		return nil, c, &plan.ChoiceError{Field: "films", Reason: fmt.Sprintf("A layered work has from 2 to %d films, each of a stock of its own.", mostFilms), Change: "Name a stock for each colour; a work of one film needs no films."}
	case l.Cut > len(stocks):
		return nil, c, &plan.ChoiceError{Field: "film", Reason: fmt.Sprintf("There are only %d films.", len(stocks))}
	case c.Stock != "" && c.Stock != stocks[l.Cut-1]:
		return nil, c, &plan.ChoiceError{Field: "stock", Reason: "A layered work is cut from the stocks of its films.", Change: "Leave the stock out, or name that of the film."}
	case !slices.Contains(meetings(), l.Meet):
		return nil, c, unknown("meet", string(l.Meet), ids(meetings(), func(m artwork.Meeting) string { return string(m) }))
	}
	if err := chooseUnderlap(l, c); err != nil {
		return nil, c, err
	}
	for _, id := range stocks {
		f, err := chooseFilm(w, c, id)
		if err != nil {
			return nil, c, err
		}
		l.Films = append(l.Films, f)
	}
	c.Stock = stocks[l.Cut-1]
	return l, c, nil
}

func meetings() []artwork.Meeting {
	return []artwork.Meeting{artwork.Underlap, artwork.KnockOut, artwork.Whole}
}

// checkUnlayered refuses what only films can have.
func checkUnlayered(c plan.Choices) error {
	for _, one := range []struct {
		field string
		set   bool
	}{{"film", c.Film != 0}, {"meet", c.Meet != ""}, {"underlap_mm", c.UnderlapMM != 0}} {
		if one.set {
			return &plan.ChoiceError{Field: one.field, Reason: "It is said of films, and there are none.", Change: "Name the films, or leave it out."}
		}
	}
	return nil
}

// chooseUnderlap takes the underlap that was given, or that of who weeds.
func chooseUnderlap(l *films.Layering, c plan.Choices) error {
	l.UnderlapMM = c.UnderlapMM
	switch {
	case l.Meet != artwork.Underlap:
		if c.UnderlapMM != 0 {
			return &plan.ChoiceError{Field: "underlap_mm", Reason: "Only films that meet by an underlap have one.", Change: "Leave it out."}
		}
	case c.UnderlapMM < 0 || c.UnderlapMM > films.UnderlapMost:
		return &plan.ChoiceError{Field: "underlap_mm", Reason: fmt.Sprintf("The underlap must be above 0 and at most %g mm.", films.UnderlapMost)}
	case c.UnderlapMM == 0 && c.Options.Novice:
		l.UnderlapMM = films.UnderlapNovice
	case c.UnderlapMM == 0:
		l.UnderlapMM = films.UnderlapExpert
	}
	return nil
}

// chooseFilm returns the film of a stock, which has to be one that is peeled and is cut
// from its front.
func chooseFilm(w workshop.Data, c plan.Choices, id string) (films.Film, error) {
	stock, ok := w.Stock(id)
	if !ok {
		return films.Film{}, unknown("films", id, ids(w.Stocks, func(s workshop.Stock) string { return s.ID }))
	}
	f := films.Film{Stock: id, Name: stock.Name, Family: stock.Family}
	switch {
	case !stock.Liner:
		return f, &plan.ChoiceError{Field: "films", Reason: stock.Name + " is no film on a liner, and cannot be layered.", Change: "Name a film."}
	case stock.Family == workshop.StencilFilm || stock.Family == workshop.BlastingMask || c.Purpose == weeding.Stencil:
		return f, &plan.ChoiceError{Field: "films", Reason: "The films of a layered work stay where they are put; " + stock.Name + " would be cut as a stencil.", Change: "Name films that stay, and leave the purpose out."}
	case stock.CutMirrored(c.Mirror):
		return f, &plan.ChoiceError{Field: "films", Reason: stock.Name + " is cut mirrored, and layers of mirrored film are not planned: their order is the other way round.", Change: "Send each film as a plan of its own, with the shapes of the other films left out."}
	}
	for _, choice := range c.Films {
		if choice.Stock != id {
			continue
		}
		if choice.Layer == "" && choice.Colour == nil {
			return f, &plan.ChoiceError{Field: "films", Reason: "For " + stock.Name + " no layer and no colour is named.", Change: "Say by a layer or a colour which shapes are cut from it."}
		}
		f.Rules = append(f.Rules, films.Rule{Layer: choice.Layer, Colour: choice.Colour})
	}
	return f, nil
}
