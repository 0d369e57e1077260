package motion

import "knifedesk/geometry"

// Stretch is a line or an arc of a trajectory and the speeds on it.
type Stretch struct {
	Dir                 geometry.Point // in which it sets out, of length 1
	Length, Bend        float64        // mm, 1/mm
	From, To, Top, Most float64        // mm/s at its ends and at most; mm/s² at most along it
}

// Stretches lists those of a trajectory.
func (t Trajectory) Stretches() []Stretch {
	var all []Stretch
	for _, p := range t.pieces {
		all = append(all, Stretch{p.dir, p.length, p.bend, p.v0, p.v1, p.top, p.a})
	}
	return all
}
