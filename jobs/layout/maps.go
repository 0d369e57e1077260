package layout

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"knifedesk/jobs/artwork"
	"knifedesk/jobs/weeding"
)

// MapOf returns the weeding map of what lies on a load: its own, or that of the piece.
func (l *Layout) MapOf(load *Load, piece *weeding.Map) *weeding.Map {
	if load.Map < 1 || load.Map > len(l.Maps) {
		return piece
	}
	return l.Maps[load.Map-1]
}

// StrokesOf returns the strokes of what lies on a load: those of its own map, or of the
// piece.
func (l *Layout) StrokesOf(load *Load, piece []artwork.Stroke) []artwork.Stroke {
	return l.MapOf(load, &weeding.Map{Strokes: piece}).Strokes
}

// Shared reports whether several drawings share the loads.
func (l *Layout) Shared() bool { return len(l.Maps) > 0 && l.Panels == nil }

// Canonical brings all paths into the form in which they read back from text.
func (l *Layout) Canonical() {
	for _, m := range l.Maps {
		m.Canonical()
	}
}

// Rows lists the places of a load in rows from its loading edge, each from the left: a
// row holds those whose middle lies before the end of the shortest in it.
func (l *Load) Rows() [][]MemberPlace {
	all := slices.Clone(l.Places)
	slices.SortStableFunc(all, func(p, q MemberPlace) int {
		return cmp.Or(cmp.Compare(p.Bounds.Min.Y, q.Bounds.Min.Y), cmp.Compare(p.Bounds.Min.X, q.Bounds.Min.X))
	})
	var rows [][]MemberPlace
	for i := 0; i < len(all); {
		end, j := all[i].Bounds.Max.Y, i+1
		for ; j < len(all) && all[j].Bounds.Centre().Y <= end; j++ {
			end = min(end, all[j].Bounds.Max.Y)
		}
		slices.SortStableFunc(all[i:j], func(p, q MemberPlace) int { return cmp.Compare(p.Bounds.Min.X, q.Bounds.Min.X) })
		rows, i = append(rows, all[i:j]), j
	}
	return rows
}

// Name is what stands for the copy: its code, which copy it is but for the first, and
// whether it is a spare. Where all are of one drawing it has no code but its number.
func (p MemberPlace) Name() string {
	name := p.Code
	if name == "" {
		return strconv.Itoa(p.Copy)
	}
	if p.Copy > 1 {
		name += "/" + strconv.Itoa(p.Copy)
	}
	if p.Spare {
		name += " spare"
	}
	return name
}

// Numbered reports whether all places of a load are of one drawing, whose copies have a
// number and no code.
func (l *Load) Numbered() bool { return len(l.Places) > 0 && l.Places[0].Code == "" }

// Names lists the names of places.
func Names(row []MemberPlace) string {
	names := make([]string, len(row))
	for i, at := range row {
		names[i] = at.Name()
	}
	return strings.Join(names, ", ")
}
