// Package starter writes the files in which a drawing is begun: the frame of the
// sheet at true size, and an empty layer for all that can be done on the stock.
package starter

import (
	"errors"
	"fmt"

	"knifedesk/geometry"
	"knifedesk/geometry/number"
	"knifedesk/jobs/artwork/legend"
	"knifedesk/jobs/artwork/meaning"
	"knifedesk/jobs/view/layered"
	"knifedesk/jobs/workshop"
)

// ErrNoLayer says that a convention names no layer or colour for the frame, or
// none for cuts.
var ErrNoLayer = errors.New("starter: the convention has no layer for the frame or for cuts")

// New lays out the file for a stock, whose frame is width × length mm. That of a
// roll, which has no size of its own and takes whole mm, has its size in the name of
// its layer. Notes are in it where the convention has a layer that is never cut. It
// fails with ErrNoLayer.
func New(s *workshop.Stock, c *workshop.Convention, width, length float64) (*layered.File, error) {
	f := &layered.File{Title: fmt.Sprintf("%s, frame %s x %s mm", s.Name, number.Exact(width), number.Exact(length)), Width: width, Length: length}
	layers := meaning.Layers(c, s.Family)
	has := map[workshop.Meaning]bool{}
	var told []legend.Layer
	for _, l := range layers {
		told = append(told, legend.Layer{Name: l.Name, Means: l.Means, Fold: l.Fold})
		has[l.Means] = true
		f.Layers = append(f.Layers, layered.Layer{Name: l.Name, Colour: l.Colour})
	}
	if !has[workshop.MeansFrame] || !has[workshop.MeansCut] {
		return nil, ErrNoLayer
	}
	for i, l := range layers {
		switch into := &f.Layers[i]; l.Means {
		case workshop.MeansFrame:
			into.Paths = []geometry.Path{geometry.Box{Max: geometry.Pt(width, length)}.Path()}
			if s.Form == workshop.Roll {
				into.Name = workshop.SizedLayer(l.Name, int(width), int(length))
			}
		case workshop.MeansNothing:
			into.Paths = legend.Paths(&s.Limits, told, width, length)
		}
	}
	return f, nil
}
