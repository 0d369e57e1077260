package view

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"knifedesk/jobs/ask"
)

// fewNotes is how many lines of notes a page keeps room for beside the weeding map.
const fewNotes = 6

// Room in the foot of a page, in mm.
const (
	footTitle = 4.4
	footGap   = 1.5
)

// footRoom is how high a foot of so many lines is.
func footRoom(notes, cautions int) float64 {
	room := footGap + footTitle + float64(cautions)*smallLine
	if notes > 0 {
		room += 2*footGap + footTitle + float64(notes)*smallLine
	}
	return room
}

// footTop is where the cautions begin, which end with the page.
func footTop(cautions []string) float64 {
	return sheetEnd - footTitle - float64(len(cautions))*smallLine
}

// foot writes the notes that there is room for, and at the end of the page the
// cautions.
func (s *sheet) foot(notes, cautions []string) {
	end := footTop(cautions)
	s.y += footGap
	title := "Cautions"
	if len(notes) > 0 && s.y+footTitle > end {
		title, notes = fmt.Sprintf("Known of this drawing: see the plan (%d). Cautions", len(notes)), nil
	}
	if len(notes) > 0 {
		s.small("Known of this drawing", footTitle)
		s.text(smallSize, false)
		room := max(1, int((end-footGap-s.y)/smallLine))
		if len(notes) > room {
			more := len(notes) - room + 1
			notes = append(slices.Clone(notes[:room-1]), fmt.Sprintf("and %d more: see the plan", more))
		}
		for _, n := range notes {
			s.line(sheetMargin, column, smallLine, n)
		}
	}
	s.y = end
	s.small(title, footTitle)
	s.text(smallSize, false)
	for _, l := range cautions {
		s.line(sheetMargin, column, smallLine, l)
	}
}

// small writes a heading of the foot under a line.
func (s *pen) small(text string, height float64) {
	s.SetLineWidth(0.3)
	s.Line(sheetMargin, s.y, sheetEndX, s.y)
	s.text(8, true)
	s.line(sheetMargin, column, height, text)
}

func (s *sheet) cautionLines() []string {
	s.text(smallSize, false)
	return s.SplitText(strings.Join(Cautions(s.about.Request.Stock.Family), " "), column)
}

// sortedIDs lists the questions that were answered, in the order of their IDs.
func sortedIDs(all ask.Replies) []string { return slices.Sorted(maps.Keys(all)) }
