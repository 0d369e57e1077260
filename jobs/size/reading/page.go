package reading

import (
	"slices"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
)

// goByPage takes a file that states no unit in the one in which its page has a named
// size: a page of 595.28 × 841.89 is A4 in points. There has to be one such unit
// alone, rare sizes left out where another fits. What the page says is evidence: it
// stands in for the unit that the format falls back to, and the file still states none.
func (c *Scales) goByPage(page *geometry.Box, u drawing.Unit) {
	type paged struct {
		unit drawing.Unit
		size Named
	}
	var common, rare []paged
	for _, meant := range units()[:callersUnits] {
		one := u
		one.MM = meant.MM / PerNumber(u)
		s, ok := pageNamed(c.Sizes, page.Width()*one.MM, page.Height()*one.MM)
		switch {
		case ok && s.Rare:
			rare = append(rare, paged{one, s})
		case ok:
			common = append(common, paged{one, s})
		}
	}
	if len(common) == 0 {
		common = rare
	}
	if len(common) != 1 {
		return
	}
	by := FileUnit(common[0].unit)
	own := Cause{None, "the file states no unit, taken in " + by.Words + ", as the page is " + common[0].size.Name + " then", by.MM, false}
	causes := slices.DeleteFunc(c.Causes, func(old Cause) bool { return SameFactor(old.Factor, by.MM) })
	for i := range causes {
		if causes[i].Code == None {
			causes[i] = mixUp(c.File, by, causes[i].Factor)
		}
	}
	c.File, c.Page, c.Causes = by, common[0].size.Name, slices.Insert(causes, 0, own)
}
