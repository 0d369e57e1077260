package weeding

import (
	"slices"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/finding"
)

// hint writes what to do into the steps.
func (s *peeling) hint(small bool) {
	if len(s.steps) == 0 {
		return
	}
	said := map[Class]bool{}
	alone := s.onlyCounters()
	for i := range s.steps {
		st := &s.steps[i]
		class := s.regions[st.Region-1].Class
		if !said[class] {
			st.Hint = s.classHint(class, small)
			if alone && s.peeled() {
				st.Hint = finding.Fill("Lift the {n:counter|counters, each} from its middle.", finding.Values{"n": finding.Int(len(s.steps))})
			}
		}
		said[class] = true
	}
	if first := &s.steps[0]; s.bordered() {
		first.Hint = "Check that the border is cut all round. " + first.Hint
	}
}

// onlyCounters reports whether the steps lift nothing but counters, of which none is then
// before or after anything.
func (s *peeling) onlyCounters() bool {
	return !slices.ContainsFunc(s.steps, func(st Step) bool { return s.regions[st.Region-1].Class != Counter })
}

func (s *peeling) classHint(c Class, small bool) string {
	switch {
	case !s.peeled() && c == Counter:
		return "Push the openings out from the back."
	case !s.peeled() && c == Ground:
		return "Push the holes out from the back, and pick the loose parts out of them."
	case !s.peeled():
		return "Lift the sheet off round the parts."
	case c == Surround:
		return "Start at the marked corner and pull low and flat, back over itself."
	case c == Ground && s.req.Purpose == Stencil:
		return "Lift the openings and leave the islands on the liner: the tape takes them up with the sheet."
	case c == Ground:
		return "Lift the grounds, the largest first, and watch the small pieces in them."
	case small:
		return "Lift the counters first, while the film round them holds the letters."
	}
	return "Lift the counters last, each from its middle."
}

// bordered reports whether the plan added a border.
func (s *peeling) bordered() bool {
	return slices.ContainsFunc(s.strokes, func(st artwork.Stroke) bool { return st.Added == artwork.Border })
}
