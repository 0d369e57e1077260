package finding

import (
	"encoding/json"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// MaxPlaces bounds the places listed in one finding; Count is never cut.
const MaxPlaces = drawing.MaxPlaces

// Place is where a fault lies. Box is in the coordinates of the job that
// found it: drawing units while the drawing is read and its size is found, and
// mm from the lower left corner of the artwork from then on. It is empty, and
// left out of JSON, for what stands in the file and nowhere on the sheet.
type Place struct {
	Box    geometry.Box
	Layer  string
	Source string // entity kind and handle, element and id, or line of the file
}

type placeJSON struct {
	Box    *geometry.Box `json:"box,omitempty"`
	Layer  string        `json:"layer,omitempty"`
	Source string        `json:"source,omitempty"`
}

// Nowhere reports whether p has no place on the sheet.
func (p Place) Nowhere() bool {
	return p.Box.Empty() || !p.Box.Min.Finite() || !p.Box.Max.Finite()
}

// MarshalJSON leaves the box out where there is none.
func (p Place) MarshalJSON() ([]byte, error) {
	out := placeJSON{Layer: p.Layer, Source: p.Source}
	if !p.Nowhere() {
		out.Box = &p.Box
	}
	return json.Marshal(out)
}

// UnmarshalJSON reads what MarshalJSON wrote.
func (p *Place) UnmarshalJSON(data []byte) error {
	var in placeJSON
	if err := json.Unmarshal(data, &in); err != nil {
		return err
	}
	*p = Place{Box: geometry.EmptyBox(), Layer: in.Layer, Source: in.Source}
	if in.Box != nil {
		p.Box = *in.Box
	}
	return nil
}

// Moved returns places with their boxes mapped by m.
func Moved(places []Place, m geometry.Affine) []Place {
	out := make([]Place, len(places))
	for i, p := range places {
		if !p.Nowhere() {
			c := p.Box.Corners()
			p.Box = geometry.BoxAround(m.Apply(c[0]), m.Apply(c[1]), m.Apply(c[2]), m.Apply(c[3]))
		}
		out[i] = p
	}
	return out
}
