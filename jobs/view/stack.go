package view

import (
	"fmt"
	"slices"
	"strings"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/artwork/films"
	"knifedesk/jobs/estimate"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
)

// Stack is the films of a layered work in short, the lowest first.
type Stack struct {
	Films      []StackFilm     `json:"films"`
	Place      int             `json:"place"` // of the film that the plan cuts, from 1
	Meet       artwork.Meeting `json:"meet"`
	UnderlapMM float64         `json:"underlap_mm,omitempty"`
	Marks      int             `json:"marks"`
	// Together is what all films take, once each has a price; it is looked up for who reads
	// the plan and not kept, as that of the others changes without it.
	Together *estimate.Sum `json:"-"`
}

// StackFilm is one film of a stack.
type StackFilm struct {
	Film   int    `json:"film"`  // its number as it was asked for, from 1
	Stock  string `json:"stock"` // its ID
	Name   string `json:"name"`
	Colour string `json:"colour,omitempty"` // "#rrggbb", as drawn
	Plan   string `json:"plan,omitempty"`   // that cuts it
	// Rules say which shapes are of it, as they can be asked for again.
	Rules []films.Rule `json:"rules,omitempty"`
	// Status and Price are those of the plan that cuts it, where they were looked up.
	Status   plan.Status `json:"-"`
	Price    string      `json:"-"`
	AreaMM2  float64     `json:"area_mm2"`  // that is kept of it
	ShownMM2 float64     `json:"shown_mm2"` // that is seen in the end
}

// ofStack is the digest of the films that an artwork lies among; nil for none.
func ofStack(s *artwork.Stack) *Stack {
	if s == nil {
		return nil
	}
	out := &Stack{Place: s.At + 1, Meet: s.Meet, UnderlapMM: s.UnderlapMM, Marks: len(s.Marks)}
	for _, l := range s.Layers {
		f := StackFilm{Film: l.Film, Stock: l.Stock, Name: l.Name, AreaMM2: l.AreaMM2, ShownMM2: l.ShownMM2}
		if l.Colour != nil {
			f.Colour = l.Colour.String()
		}
		out.Films = append(out.Films, f)
	}
	return out
}

// planned returns the stack with the plans of its films and the rules for them, by their
// numbers.
func (s *Stack) planned(r *plan.Request) *Stack {
	if s == nil {
		return nil
	}
	out := *s
	out.Films = nil
	for _, f := range s.Films {
		if f.Film <= len(r.FilmPlans) {
			f.Plan = r.FilmPlans[f.Film-1]
		}
		if r.Layering != nil && f.Film <= len(r.Layering.Films) {
			f.Rules = r.Layering.Films[f.Film-1].Rules
		}
		out.Films = append(out.Films, f)
	}
	return &out
}

// FilmPlan is how the plan of a film stands, and its price; a nil estimate: it has none yet.
type FilmPlan struct {
	Status   plan.Status
	Estimate *estimate.Estimate
}

// Priced returns the stack with how the plans of its films stand, in their order, and what
// they take together: they are one order.
func (s *Stack) Priced(all []FilmPlan) *Stack {
	out := *s
	out.Films = slices.Clone(s.Films)
	var prices []*estimate.Estimate
	for i, one := range all {
		out.Films[i].Status = one.Status
		if one.Estimate != nil {
			out.Films[i].Price = one.Estimate.TotalText
		}
		prices = append(prices, one.Estimate)
	}
	out.Together = estimate.Together(prices)
	return &out
}

// Order says in which order the films are put up, and which of them the plan cuts.
func (s *Stack) Order() string {
	var names []string
	for i, f := range s.Films {
		name := f.Name
		if i+1 == s.Place {
			name += " (this plan)"
		}
		if f.Price != "" {
			name += ", " + f.Price
		} else if f.Status != "" && f.Status != plan.Ready {
			name += ", " + string(f.Status)
		}
		names = append(names, fmt.Sprintf("%d. %s", i+1, name))
	}
	return strings.Join(names, "; ")
}

// Edges says how the films meet.
func (s *Stack) Edges() string {
	switch s.Meet {
	case artwork.KnockOut:
		return "The films meet edge to edge: where one is put up out of place, a gap shows."
	case artwork.Whole:
		return "Lower films go on wholly under those on them."
	}
	return fmt.Sprintf("Lower films go on %s mm under the edges of those on them.", short(s.UnderlapMM))
}

// Apply says how this film is put up.
func (s *Stack) Apply() string {
	switch {
	case s.Place == 1:
		return "Put this film up first; its register marks stay on until the last film is up."
	case s.Place == len(s.Films):
		return "Put this film up last, each register mark on the one below; then take all marks off."
	}
	return fmt.Sprintf("Put this film up after %s, each register mark on the one below; the marks stay on.", s.Films[s.Place-2].Name)
}

// stackOf is the films that the work lies among; nil: it is of one film.
func stackOf(r *Results) *Stack {
	if r.Artwork == nil {
		return nil
	}
	return ofStack(r.Artwork.Stack)
}

// film says of a page which film of a layered work is cut.
func film(s *sheet) {
	if of := stackOf(s.view); of != nil {
		s.fact(leftWidth, "Film", of.Turn())
	}
}

// putUp says how a film of a layered work is put up: under the heading of the tape, or
// under one of its own.
func putUp(s *sheet, width float64) {
	of := stackOf(s.view)
	if of == nil {
		return
	}
	if s.view.Layout.Usage.TapeM == 0 && !s.view.Panelled() {
		s.heading(width, "Put up")
	}
	s.tick(width, of.Apply())
}

// Turn says which of the films this one is: "2 of 3, on Blue film, under
// Red film".
func (s *Stack) Turn() string {
	text := fmt.Sprintf("%d of %d", s.Place, len(s.Films))
	if s.Place > 1 {
		text += ", on " + s.Films[s.Place-2].Name
	}
	if s.Place < len(s.Films) {
		text += ", under " + s.Films[s.Place].Name
		if s.Meet == artwork.Underlap {
			text += fmt.Sprintf(" by %s mm", short(s.UnderlapMM))
		}
	}
	return text
}

// writeStack writes the order of the films.
func writeStack(line writeLine, s *Stack) {
	if s == nil {
		return
	}
	line("films", "%s", s.Order())
	if s.Together != nil {
		line("", "%s", TogetherText(s.Together, len(s.Films)))
	}
	line("", "%s", s.Edges())
	line("", "%s", s.Apply())
}

// TogetherText says what so many films that are one order take.
func TogetherText(s *estimate.Sum, count int) string {
	return finding.Fill("{n} films together: {price}; cutter {cutter}, bench {bench}.", finding.Values{
		"n": finding.Int(count), "price": finding.Text(s.TotalText), "cutter": finding.Text(minutesText(s.CutterMin)), "bench": finding.Text(minutesText(s.BenchMin)),
	})
}
