package workshop

import (
	"fmt"
	"slices"
)

// FieldError says which field of the workshop's data cannot hold beside the
// others, and why.
type FieldError struct {
	Field  string // as in JSON
	Reason string // a sentence
	Change string // what to write
}

// Error names the field and what is wrong with it.
func (e *FieldError) Error() string { return e.Field + ": " + e.Reason }

// leastRoom is the least room for work that a stock has between its margins, in mm
// (common practice, no source).
const leastRoom = 10

// Check holds the fields of a stock against each other: margins that leave no
// room, a usable width beyond the stock, a roll shorter than its lead and tail. It
// returns a *FieldError or nil.
func (s Stock) Check() error {
	if err := s.checkHeld("", Held{s.Hold, s.MatTack, s.UsableWidthMM, s.MarginMM, s.LeastMarginMM, s.GapMM}); err != nil {
		return err
	}
	seen := map[Hold]bool{s.Hold: true}
	for i, h := range s.Holds {
		at := fmt.Sprintf("holds.%d.", i)
		if seen[h.Hold] {
			return &FieldError{at + "hold", "The stock has this hold already.", "Leave one of them out."}
		}
		seen[h.Hold] = true
		if err := s.checkHeld(at, h); err != nil {
			return err
		}
	}
	if s.Form == Roll {
		if err := s.checkRoll(); err != nil {
			return err
		}
	}
	return s.checkJoin()
}

// checkHeld holds the margins of one hold against the size of the stock.
func (s Stock) checkHeld(at string, h Held) error {
	room := s.LengthMM - 2*h.MarginMM
	switch {
	case h.UsableWidthMM > s.WidthMM:
		return &FieldError{at + "usable_width_mm", fmt.Sprintf("More than the stock's width of %g mm.", s.WidthMM), "Leave the lanes of the rollers, or the margins at both sides, off the width."}
	case h.UsableWidthMM < leastRoom:
		return &FieldError{at + "usable_width_mm", fmt.Sprintf("It leaves less than %d mm for work.", leastRoom), "Enter the width that can be cut."}
	case s.Form != Roll && room < leastRoom:
		return &FieldError{at + "margin_mm", fmt.Sprintf("Margins of %g mm at both ends leave %g mm of the length of %g mm.", h.MarginMM, max(0, room), s.LengthMM), fmt.Sprintf("Write at most %g.", max(0, (s.LengthMM-leastRoom)/2))}
	case s.Form != Roll && h.LeastMarginMM > max(h.MarginMM, (s.WidthMM-h.UsableWidthMM)/2):
		return &FieldError{at + "least_margin_mm", "More than the margins themselves.", "Write at most the margin, or leave it out."}
	case h.GapMM > min(s.WidthMM, s.LengthMM):
		return &FieldError{at + "gap_mm", "The gap between pieces is larger than the stock.", "Write how far apart pieces have to lie."}
	}
	return nil
}

// checkRoll holds the lengths and diameters of a roll against each other.
func (s Stock) checkRoll() error {
	ends := s.LeadMM + s.TailMM
	switch {
	case s.LongestRunMM > 0 && s.LongestRunMM < ends+leastRoom:
		return &FieldError{"longest_run_mm", fmt.Sprintf("Lead and tail alone take %g mm.", ends), "Write the longest length that is drawn off the roll at once, lead and tail counted."}
	case s.Wound == nil:
		return nil
	}
	w := *s.Wound
	um, learned := w.Thickness()
	switch {
	case (w.NewMM > 0) != (w.NewOuterMM > 0):
		return &FieldError{"wound.new_outer_mm", "A new roll is told by its length and its diameter together.", "Write both, or neither."}
	case w.NewOuterMM > 0 && w.NewOuterMM <= w.CoreMM:
		return &FieldError{"wound.new_outer_mm", "A new roll is larger than its core.", "Measure both across."}
	case um > 0 && um < s.CaliperUM && learned:
		return &FieldError{"wound.new_outer_mm", fmt.Sprintf("By these numbers a turn is %.0f µm thick, less than the film alone.", um), "Measure the new roll and its core again."}
	case um > 0 && um < s.CaliperUM:
		return &FieldError{"wound.thickness_um", "Less than the film alone.", "Write film, adhesive and liner together."}
	}
	return nil
}

// checkJoin holds the overlap of panels against their joint and the width of one.
func (s Stock) checkJoin() error {
	j := s.Joined()
	switch {
	case j.Joint == Butt && j.OverlapMM > 0:
		return &FieldError{"join.overlap_mm", "Panels of a butt joint do not overlap.", "Write 0, or choose another joint."}
	case j.Joint != Butt && j.OverlapMM >= s.UsableWidthMM:
		return &FieldError{"join.overlap_mm", "The overlap is as wide as a panel.", "Write how far panels overlap."}
	}
	return nil
}

// Check holds the fields of a convention against each other. It returns a
// *FieldError or nil.
func (c Convention) Check() error {
	for i, r := range c.Rules {
		if r.Fold != "" && r.Means != MeansScore {
			return &FieldError{fmt.Sprintf("rules.%d.fold", i), "A line that is no score is not folded.", "Leave it out there, or write score as the meaning of the rule."}
		}
	}
	return nil
}

// Check holds the fields of a machine against each other. It returns a *FieldError
// or nil.
func (m Machine) Check() error {
	seen := map[string]bool{}
	for i, mat := range m.Mats {
		if seen[mat.ID] {
			return &FieldError{fmt.Sprintf("mats.%d.id", i), "The machine has a mat of this name already.", "Give each its own."}
		}
		seen[mat.ID] = true
	}
	trails := m.Blade.OffsetMM > 0 || slices.ContainsFunc(m.Blades, func(b Blade) bool { return b.OffsetMM > 0 })
	if m.TurnsLifted && m.Compensates == CompensatesNothing && trails {
		return &FieldError{"turns_lifted", "A blade that trails its holder turns only while it is dragged in the material: lifting it would not turn it.", "Leave it out for a drag knife, or write offset in compensates where the machine turns the blade and sees to its offset."}
	}
	return nil
}
