package size

import (
	"fmt"
	"slices"
	"strings"

	"knifedesk/jobs/size/evidence"
	"knifedesk/jobs/size/reading"
)

// RequestError says which field of a Request cannot be used and why. It is a
// mistake of the caller and no fault of the drawing.
type RequestError struct {
	Field  string // as in JSON: frame, unit, scale, known_length
	Value  string
	Reason string // follows the value in a sentence
}

func (e *RequestError) Error() string {
	return fmt.Sprintf("size: %s: %q %s", e.Field, e.Value, e.Reason)
}

// The lengths a KnownLength can be about.
const (
	Width       = "width"        // of the artwork, left edge to right edge
	Height      = "height"       // of the artwork, bottom edge to top edge
	LongestLine = "longest_line" // the longest straight line of the artwork
)

// Check reports whether the request can be used, as a *RequestError where it
// cannot. Repair makes the same check.
func (r Request) Check() error {
	if r.Frame != "" && !r.unframed() {
		if _, ok := reading.Declared(r.Frame, r.sizes()); !ok {
			return &RequestError{"frame", strings.TrimSpace(r.Frame), "is neither a size known here, such as A4, nor two lengths such as 210x297 or 8.5x11in"}
		}
	}
	if _, ok := reading.UnitNamed(r.Unit); r.Unit != "" && !ok {
		return &RequestError{"unit", r.Unit, "is not one of mm, cm, m, inch, pt, px"}
	}
	if r.Scale != 0 && !reading.Usable(r.Scale) {
		return &RequestError{"scale", fmt.Sprint(r.Scale), "is not a positive number of mm, up to 1e6, for one unit of the file's numbers"}
	}
	if k := r.KnownLength; k != nil {
		if !slices.Contains([]string{Width, Height, LongestLine}, k.Of) {
			return &RequestError{"known_length", k.Of, "is not one of width, height, longest_line"}
		}
		if !reading.Usable(k.MM) {
			return &RequestError{"known_length", fmt.Sprint(k.MM), "is not a positive length in mm, up to 1e6"}
		}
	}
	return nil
}

// NoFrame is the Frame of a drawing in which every rectangle is part of the
// work.
const NoFrame = "none"

func (r Request) unframed() bool { return strings.EqualFold(strings.TrimSpace(r.Frame), NoFrame) }

// sizes lists the sizes that a frame is compared with.
func (r Request) sizes() []reading.Named { return reading.SizesOf(r.Stock, r.Sheets) }

// layers gives the patterns of the convention.
func (r Request) layers() evidence.Layers {
	return evidence.Layers{Frame: r.FrameLayers, Notes: r.NotesLayers, Work: r.WorkLayers}
}

// given reports whether the caller gave the size itself.
func (r Request) given() bool { return r.Scale > 0 || r.KnownLength != nil || r.Unit != "" }

// off reports whether the mend id is switched off.
func (r Request) off(id string) bool { return slices.Contains(r.MendsOff, id) }
