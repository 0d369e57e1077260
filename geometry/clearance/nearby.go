package clearance

import (
	"math"

	"knifedesk/geometry"
)

// nearby is the box of a tree in which all lies that is near a place. Balls at places after
// each other are looked for in the same few boxes, so that most need not come down to them
// from the top.
type nearby struct {
	at   geometry.Point
	box  int32
	free float64 // what is not in the box lies farther off than that, in mm
	made float64 // the reach for which it was looked for
}

// about returns a box that holds all that lies within reach of a place.
func (n *nearby) about(t *tree, p geometry.Point, reach float64) int32 {
	const (
		sure   = 1 + 1e-6 // against rounding
		finer  = 1.0 / 8  // of the reach for which a box was looked for: then a smaller one may do
		beside = 2        // times the reach, so that the box serves places beside p too
	)
	reach *= sure
	if n.box > 0 && reach > finer*n.made && math.Sqrt(squared(p.X-n.at.X, p.Y-n.at.Y))+reach < n.free {
		return n.box
	}
	*n = nearby{at: p, free: math.Inf(1), made: reach}
	for top := &t.nodes[0]; top.right > 0; top = &t.nodes[n.box] {
		near, far := n.box+1, top.right
		off, beyond := t.nodes[near].apart(p), t.nodes[far].apart(p)
		if beyond < off {
			near, far, beyond = far, near, off
		}
		if beyond = math.Sqrt(beyond); beyond <= beside*reach {
			break
		}
		n.box, n.free = near, min(n.free, beyond)
	}
	return n.box
}
