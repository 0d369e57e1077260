package plan

import (
	"errors"
	"strings"

	"knifedesk/geometry/drawing"
)

// FilmChoice is one film of a layered work: a stock, and which shapes are cut from it, by
// layer, by colour, or by both.
type FilmChoice struct {
	Stock  string
	Layer  string
	Colour *drawing.Colour
}

// ErrFilm says how a film is written in short.
var ErrFilm = errors.New("write stock=#rrggbb or stock=LAYER")

// ParseFilm reads a film in short: "film-red=#c00000" or "film-red=RED". It fails with
// ErrFilm.
func ParseFilm(text string) (FilmChoice, error) {
	stock, of, ok := strings.Cut(text, "=")
	if !ok || stock == "" || of == "" {
		return FilmChoice{}, ErrFilm
	}
	var colour drawing.Colour
	if colour.UnmarshalText([]byte(of)) == nil {
		return FilmChoice{Stock: stock, Colour: &colour}, nil
	}
	return FilmChoice{Stock: stock, Layer: of}, nil
}
