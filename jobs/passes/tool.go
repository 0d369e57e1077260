package passes

import (
	"fmt"

	"knifedesk/geometry/number"
	"knifedesk/jobs/artwork"
)

// Tool says what is in the holder for a pass, by the ID of the blade.
func (p *Pass) Tool() string {
	switch {
	case p.Operation == artwork.Pen:
		return "pen"
	case p.Blade == "":
		return "scoring tip"
	}
	return fmt.Sprintf("blade %s, offset %s mm", p.Blade, number.People(p.Rule.OffsetMM))
}
