package drawing

import (
	"encoding/hex"
	"fmt"
)

// Colour is an sRGB colour. Its text form is #rrggbb.
type Colour struct{ R, G, B uint8 }

// RGB is shorthand for a pointer to a Colour.
func RGB(r, g, b uint8) *Colour { return &Colour{r, g, b} }

func (c Colour) String() string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// MarshalText writes c as #rrggbb.
func (c Colour) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// UnmarshalText reads #rrggbb in either case.
func (c *Colour) UnmarshalText(text []byte) error {
	var b [3]byte
	if len(text) != 7 || text[0] != '#' {
		return fmt.Errorf("colour %q: want #rrggbb", text)
	}
	if _, err := hex.Decode(b[:], text[1:]); err != nil {
		return fmt.Errorf("colour %q: want #rrggbb", text)
	}
	*c = Colour{b[0], b[1], b[2]}
	return nil
}
