package view

import (
	"fmt"
	"strings"

	"knifedesk/jobs/artwork"
)

// Stack is the films of a layered work in short, the lowest first.
type Stack struct {
	Films      []StackFilm     `json:"films"`
	Place      int             `json:"place"` // of the film that the plan cuts, from 1
	Meet       artwork.Meeting `json:"meet"`
	UnderlapMM float64         `json:"underlap_mm,omitempty"`
	Marks      int             `json:"marks"`
}

// StackFilm is one film of a stack.
type StackFilm struct {
	Film     int     `json:"film"`  // its number as it was asked for, from 1
	Stock    string  `json:"stock"` // its ID
	Name     string  `json:"name"`
	Colour   string  `json:"colour,omitempty"` // "#rrggbb", as drawn
	Plan     string  `json:"plan,omitempty"`   // that cuts it
	AreaMM2  float64 `json:"area_mm2"`         // that is kept of it
	ShownMM2 float64 `json:"shown_mm2"`        // that is seen in the end
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

// planned returns the stack with the plans of its films, by their numbers.
func (s *Stack) planned(plans []string) *Stack {
	if s == nil {
		return nil
	}
	out := *s
	out.Films = nil
	for _, f := range s.Films {
		if f.Film <= len(plans) {
			f.Plan = plans[f.Film-1]
		}
		out.Films = append(out.Films, f)
	}
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
		names = append(names, fmt.Sprintf("%d. %s", i+1, name))
	}
	return strings.Join(names, ", ")
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
		return "Put this film up first. Leave its register marks on until the last film is up."
	case s.Place == len(s.Films):
		return "Put this film up last: each of its register marks has to cover the one below. Then take all marks off."
	}
	return fmt.Sprintf("Put this film up after %s: each of its register marks has to cover the one below. Leave the marks on.", s.Films[s.Place-2].Name)
}

// writeStack writes the order of the films.
func writeStack(line writeLine, s *Stack) {
	if s == nil {
		return
	}
	line("films", "%s", s.Order())
	line("", "%s", s.Edges())
	line("", "%s", s.Apply())
}
