package workshop

import (
	"fmt"
	"slices"
	"strings"

	"knifedesk/jobs/artwork"
)

// Check holds the fields of a convention against each other: a blank name, a side to
// fold to of a line that is no score, a rule that an earlier one makes idle. It
// returns a *FieldError or nil.
func (c Convention) Check() error {
	for i, r := range c.Rules {
		if r.Fold != "" && r.Means != MeansScore {
			return &FieldError{fmt.Sprintf("rules.%d.fold", i), "A line that is no score is not folded.", "Leave it out there, or write score as the meaning of the rule."}
		}
		if r.Film != "" && r.Means != MeansCut {
			return &FieldError{fmt.Sprintf("rules.%d.film", i), "Only what is cut is cut from a film.", "Leave it out there, or write cut as the meaning of the rule."}
		}
		if slices.ContainsFunc(c.Rules[:i], r.covers) {
			return &FieldError{fmt.Sprintf("rules.%d", i), "An earlier rule is for the same lines.", "Leave one of them out."}
		}
	}
	return named(c.Name)
}

// covers says whether a rule is for the same lines as another.
func (r Rule) covers(other Rule) bool {
	return strings.EqualFold(r.Layer, other.Layer) && r.WidthMM == other.WidthMM &&
		(r.Colour == nil) == (other.Colour == nil) && (r.Colour == nil || *r.Colour == *other.Colour)
}

// Check holds the fields of a machine against each other: a blank name, blades and
// mats that share one. It returns a *FieldError or nil.
func (m Machine) Check() error {
	seen := map[string]bool{}
	for i, mat := range m.Mats {
		if seen[mat.ID] {
			return &FieldError{fmt.Sprintf("mats.%d.id", i), "The machine has a mat of this name already.", "Give each its own."}
		}
		seen[mat.ID] = true
	}
	kept := map[string]bool{m.Blade.ID: true}
	for i, b := range m.Blades {
		if kept[b.ID] {
			return &FieldError{fmt.Sprintf("blades.%d.id", i), "The machine has a blade of this name already.", "Give each its own."}
		}
		kept[b.ID] = true
	}
	trails := m.Blade.OffsetMM > 0 || slices.ContainsFunc(m.Blades, func(b Blade) bool { return b.OffsetMM > 0 })
	if m.TurnsLifted && m.Compensates == CompensatesNothing && trails {
		return &FieldError{"turns_lifted", "A blade that trails its holder turns only while it is dragged in the material: lifting it would not turn it.", "Leave it out for a drag knife, or write offset in compensates where the machine turns the blade and sees to its offset."}
	}
	return named(m.Name)
}

// Check holds the fields of a setting against each other: dashes and ties belong to a
// perforation and to each other, and only a pen may lie on by its own weight. It returns a
// *FieldError or nil.
func (s Setting) Check() error {
	switch {
	case s.Operation != artwork.Perforate && (s.DashMM > 0 || s.TieMM > 0):
		return &FieldError{"dash_mm", "Only a perforation has dashes.", "Leave dash_mm and tie_mm out, or write perforate as the operation."}
	case s.DashMM > 0 && s.TieMM == 0:
		return &FieldError{"tie_mm", "Dashes without ties are a cut all through.", "Write what is left whole between two dashes, or leave dash_mm out where a perforating tool runs the line unbroken."}
	case s.TieMM > 0 && s.DashMM == 0:
		return &FieldError{"dash_mm", "Ties without dashes are no cut at all.", "Write how long a dash is, or leave tie_mm out."}
	case s.ForceGF == 0 && s.Operation != artwork.Pen:
		return &FieldError{"force_gf", "No blade cuts or creases without force.", "Write the force to begin the test cut with, in gram-force as the machine has it."}
	}
	return nil
}

// Check holds the fields of a price list against each other: a name and a currency
// that can be read. It returns a *FieldError or nil.
func (p PriceList) Check() error {
	if strings.TrimSpace(p.Currency) == "" {
		return &FieldError{"currency", "The currency is blank.", "Write the workshop's own word, such as credit."}
	}
	return named(p.Name)
}

// Unpriced lists the IDs of the stocks that the price list has no price for, in their
// order. A plan on one gives the price without its material, and says so.
func (p PriceList) Unpriced(stocks []Stock) (ids []string) {
	for _, s := range stocks {
		prices := p.PerSheet
		if s.Form == Roll {
			prices = p.PerMetre
		}
		if _, there := prices[s.ID]; !there {
			ids = append(ids, s.ID)
		}
	}
	return ids
}
