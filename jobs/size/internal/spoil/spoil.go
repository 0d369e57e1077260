// Package spoil makes drawings as files whose true size is known and then
// loses it, the way programs and people lose it. The truth stands beside each
// file, and the rule of clearness too: whether the evidence left allows one
// reading, has to be asked about, or is contradictory. Both are written before
// anything tries to repair the drawing.
//
// Named sizes, named causes and the rule are written out here a second time,
// from the decision table of the design and not from the package under test,
// and the writers are none of the module's own, so that a mistake there does
// not hide itself.
package spoil

import (
	"fmt"
	"math/rand/v2"

	"knifedesk/geometry"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/workshop"
)

// Case is one spoiled drawing, what is asked about it, and the truth.
type Case struct {
	Number  int
	Kind    string // what was drawn and how it was spoiled, a row of the table
	Format  string // dxf, svg, pdf
	File    []byte
	Data    workshop.Data
	Choices plan.Choices
	Truth   Truth
}

// Class is the rule of clearness.
type Class string

// The classes.
const (
	Clear         Class = "clear"         // has to be settled and not asked
	Decidable     Class = "decidable"     // has to be asked, or settled right
	MustAsk       Class = "must ask"      // has to be asked: being right would be luck
	Contradictory Class = "contradictory" // has to be asked or refused
	Unspoken      Class = "unspoken"      // the header is wrong and nothing says so: a warning is all that can be had
)

// Truth is what the maker of a Case knows.
type Truth struct {
	Class Class
	Rule  string // how Class was decided
	// Cut are the boxes of all that is cut, mm at true size, y up.
	Cut []geometry.Box
	// Frames are the boxes of what is drawn and not cut, likewise.
	Frames []geometry.Box
	// MayCut are boxes of what may or may not be taken for work without
	// harm, such as a white background.
	MayCut []geometry.Box
	// Several says that there are several drawings in the file, of which an
	// answer may leave out all but that of Cut.
	Several bool
	// FrameSides are the longer sides of the frames, mm.
	FrameSides []float64
	// Notes are the names of all that was done to the drawing.
	Notes []string
}

// maker holds one case while it is made. Lengths are mm at true size until
// they are written.
type maker struct {
	rng *rand.Rand
	c   Case
	// The drawing.
	figures []figure
	page    sheet   // what the frame stands for
	canvas  float64 // mm round the page that the file's own page has beside
	// How it is written.
	unit     unit    // by the header
	mmPer    float64 // mm for one number of the file, in truth
	sx, sy   float64 // stretch, drawn over true
	turn     float64 // degrees
	shift    geometry.Point
	nested   float64 // scale of a block that holds the grouped figures; 0: none
	rounded  float64 // radius of the frame's corners, mm; 0: sharp
	workOn   string  // layer of the work
	frameOn  string  // layer of the frame
	stock    workshop.Stock
	rules    workshop.Convention
	saved    saving
	declared bool // the caller said of this drawing what settles it
}

// Make returns the case with that number; the same seed and number give the
// same case.
func Make(seed uint64, number int) Case {
	m := &maker{rng: rand.New(rand.NewPCG(seed, uint64(number))), sx: 1, sy: 1}
	m.c.Number = number
	chooseLayers(m)
	all := kinds()
	k := all[number%len(all)]
	m.c.Kind = k.name
	k.draw(m)
	addStrays(m)
	placeAtScale(m)
	finish(m)
	return m.c
}

func (m *maker) chance(p float64) bool { return m.rng.Float64() < p }

func (m *maker) between(lo, hi float64) float64 { return lo + (hi-lo)*m.rng.Float64() }

func pick[T any](m *maker, of ...T) T { return of[m.rng.IntN(len(of))] }

func (m *maker) note(format string, args ...any) {
	m.c.Truth.Notes = append(m.c.Truth.Notes, fmt.Sprintf(format, args...))
}

// is sets the class and says by which rule.
func (m *maker) is(c Class, format string, args ...any) {
	m.c.Truth.Class, m.c.Truth.Rule = c, fmt.Sprintf(format, args...)
}
