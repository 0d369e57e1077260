package svg

import (
	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// Names of the limits as the note limit_reached tells them.
const (
	limitBytes      = "bytes"
	limitUnpacked   = "unpacked bytes"
	limitAttributes = "attributes"
	limitRepeats    = "bytes read again through references"
	limitTag        = "attributes in one tag"
	limitElements   = "elements"
	limitDepth      = "levels of nesting"
	limitUses       = "elements drawn through references"
	limitSegments   = "segments"
	limitEntityText = "bytes of entity text"
	limitStyleSteps = "steps of style rules"
)

// place says where the element e lies, in drawing units; a box that is beyond
// numbers is left out.
func place(e *element, layer string, box geometry.Box) *drawing.Place {
	if !finite(box) {
		box = geometry.EmptyBox()
	}
	return &drawing.Place{Box: box, Layer: layer, Source: e.source().String()}
}
