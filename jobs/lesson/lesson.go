// Package lesson teaches what the findings mean: for each code what happened, how to
// see it in one's own drawing, and two tiny drawings, of which the jobs find the fault
// in the one and not in the other.
//
// Words are general: no drawing program has the same menus. The drawings run through
// the jobs of the invented college.
package lesson

import (
	"knifedesk/jobs/finding"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/workshop"
)

// Lesson is the page of a code.
type Lesson struct {
	Code  finding.Code
	Title string
	What  string // happened, and why it matters
	See   string // how it is seen in one's own drawing
	Wrong Example
	Right Example
}

// Example is a tiny drawing as it is sent.
type Example struct {
	Says   string // what is to be seen in it
	File   string // its bytes
	On     plan.Choices
	Change func(*workshop.Data) // of the college's data; nil: none
}

// Group is the lessons about one thing.
type Group struct {
	Name    string
	Lessons []Lesson
	// Measured says that the pictures show how large the drawing is, beside a bank
	// card.
	Measured bool
	// Covering says that filled shapes hide what lies under them, as films do.
	Covering bool
	// Laid says that the pictures show the work as it lies on its sheet.
	Laid bool
}

// Groups lists all lessons, in the order in which a drawing meets their faults.
func Groups() []Group {
	return []Group{
		{Name: "The file", Lessons: fileLessons},
		{Name: "What the drawing is made of", Lessons: madeOfLessons},
		{Name: "Parts that are not cut", Lessons: unreadLessons},
		{Name: "Damaged places in a file", Lessons: damageLessons},
		{Name: "How large it is", Lessons: sizeLessons, Measured: true},
		{Name: "The frame round the page", Lessons: frameLessons, Measured: true},
		{Name: "Lines and outlines", Lessons: lineLessons},
		{Name: "What the lines are for", Lessons: meaningLessons},
		{Name: "Films on each other", Lessons: filmLessons, Covering: true},
		{Name: "What stays and what comes off", Lessons: weedingLessons},
		{Name: "How fine it is", Lessons: fineLessons},
		{Name: "On the sheet or the roll", Lessons: layoutLessons, Laid: true},
		{Name: "At the machine", Lessons: machineLessons, Laid: true},
	}
}

// Of returns the lesson of a code with its group, and whether there is one.
func Of(code finding.Code) (Lesson, Group, bool) {
	for _, g := range Groups() {
		for _, l := range g.Lessons {
			if l.Code == code {
				return l, g, true
			}
		}
	}
	return Lesson{}, Group{}, false
}
