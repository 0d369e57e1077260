package mended

import (
	"fmt"

	"knifedesk/geometry/drawing"
	"knifedesk/jobs/artwork/meaning"
)

// spare is a layer for the frame that means nothing by the convention.
func (m *maker) spare() key {
	k := key{"PAGE", drawing.Colour{R: 0x90, G: 0x90, B: 0x90}}
	for n := 2; n < 9; n++ {
		if means, _ := meaning.Means(&m.q.Convention, k.layer, k.colour); means == "" {
			break
		}
		k.layer = fmt.Sprintf("PAGE %d", n)
	}
	return k
}
