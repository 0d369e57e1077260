package artwork

import (
	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// Meeting says what becomes of a film where another lies on it.
type Meeting string

// The meetings. Where there is no room for a hole that can be weeded, the lower film is
// left whole under all of them but a knock-out.
const (
	Underlap Meeting = "underlap"  // it goes on a little under the edge of the upper one
	KnockOut Meeting = "knock_out" // it is cut away: the two meet edge to edge, and a shift shows
	Whole    Meeting = "whole"     // it goes on wholly
)

// Stack is the films of a layered work as they lie on each other, and which of them the
// artwork is.
type Stack struct {
	Layers     []Layer      `json:"layers"` // the lowest first
	At         int          `json:"at"`     // of Layers, that of this artwork
	Meet       Meeting      `json:"meet"`
	UnderlapMM float64      `json:"underlap_mm,omitempty"`
	Work       geometry.Box `json:"work"` // round all films, without the marks
	// Marks are the register marks, in the same place on all films.
	Marks []geometry.Path `json:"marks,omitempty"`
}

// Layer is one film of a stack.
type Layer struct {
	Film   int             `json:"film"`  // its number as it was asked for, from 1
	Stock  string          `json:"stock"` // its ID
	Name   string          `json:"name"`  // of the stock
	Colour *drawing.Colour `json:"colour,omitempty"`
	// Area is what is kept of the film, by the even-odd rule, and AreaMM2 its size.
	Area    []geometry.Path `json:"area"`
	AreaMM2 float64         `json:"area_mm2"`
	// ShownMM2 is how much of it is seen in the end.
	ShownMM2 float64 `json:"shown_mm2"`
}

// moved maps all paths of the stack.
func (s *Stack) moved(m func(geometry.Path) geometry.Path) {
	for i := range s.Layers {
		for k, p := range s.Layers[i].Area {
			s.Layers[i].Area[k] = m(p)
		}
	}
	for i, p := range s.Marks {
		s.Marks[i] = m(p)
	}
}

// Move moves the stack in place.
func (s *Stack) Move(m geometry.Affine) {
	s.moved(func(p geometry.Path) geometry.Path { return p.Transform(m) })
	s.Work = geometry.BoxAround(m.Apply(s.Work.Min), m.Apply(s.Work.Max))
}
