package size

import (
	"fmt"
	"slices"
	"strings"
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
		if _, err := declaredSize(r.Frame, sizesOf(r)); err != nil {
			return err
		}
	}
	if _, ok := unitNamed(r.Unit); r.Unit != "" && !ok {
		return &RequestError{"unit", r.Unit, "is not one of mm, cm, m, inch, pt, px"}
	}
	if r.Scale != 0 && !usable(r.Scale) {
		return &RequestError{"scale", fmt.Sprint(r.Scale), "is not a positive number of mm, up to 1e6, for one unit of the file's numbers"}
	}
	if k := r.KnownLength; k != nil {
		if !slices.Contains([]string{Width, Height, LongestLine}, k.Of) {
			return &RequestError{"known_length", k.Of, "is not one of width, height, longest_line"}
		}
		if !usable(k.MM) {
			return &RequestError{"known_length", fmt.Sprint(k.MM), "is not a positive length in mm, up to 1e6"}
		}
	}
	return nil
}

// NoFrame is the Frame of a drawing in which every rectangle is part of the
// work.
const NoFrame = "none"

func (r Request) unframed() bool { return strings.EqualFold(strings.TrimSpace(r.Frame), NoFrame) }

// usable reports whether a scale or a length can be reckoned with.
func usable(v float64) bool {
	const most = 1e6 // mm, or mm for one unit
	return v > 0 && v <= most
}

// off reports whether the mend id is switched off.
func (r Request) off(id string) bool { return slices.Contains(r.MendsOff, id) }
