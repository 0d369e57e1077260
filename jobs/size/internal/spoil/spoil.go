// Package spoil makes drawings whose true size is known and then loses it, the
// way programs and people lose it. The truth, and whether the evidence left in
// the drawing allows only one reading of it, are written beside each drawing
// before anything tries to repair it.
//
// The named sizes, the named causes and the rule of ambiguity are written out
// here a second time, from the design and not from the package under test, so
// that a mistake there does not hide itself.
package spoil

import (
	"fmt"
	"math"
	"math/rand/v2"

	"knifedesk/geometry"
	"knifedesk/geometry/drawing"
	"knifedesk/jobs/size"
)

// Case is one spoiled drawing, what is asked about it, and the truth.
type Case struct {
	Number  int
	Drawing *drawing.Drawing
	Request size.Request
	Truth   Truth
}

// Truth is what the maker of a Case knows.
type Truth struct {
	// ToMM maps the drawing's units to mm, but for a shift.
	ToMM geometry.Affine
	// Far are the diagonals of the artwork in drawing units: the far corner
	// seen from the near one.
	Far [2]geometry.Point
	// ArtMM are the true width and height of the artwork as it lies, edge to
	// edge; AllMM those of the artwork and the frame.
	ArtMM, AllMM [2]float64
	PageMM       [2]float64 // sides of the page
	// Spoilings are the names of all that was done to the drawing.
	Spoilings []string
	// Framed says that a frame is drawn; Intact that it is neither stretched
	// nor edited; Declared that the request says what it is.
	Framed, Intact, Declared bool
	// Stretched says that the page is stretched one way, by 0.1 % or more.
	Stretched bool
	// Unambiguous says that exactly one hypothesis is left by Rule.
	Unambiguous bool
	// Rule says how Unambiguous was decided.
	Rule string
	// HeaderWrong says that the file states a unit that is not the true one.
	HeaderWrong bool
}

// maker holds one case while it is made. Lengths are mm at true size until
// they are written into the drawing.
type maker struct {
	rng   *rand.Rand
	page  paper
	turn  float64 // of the page, radians
	mmPer float64 // mm in one drawing unit, in truth
	sx    float64 // stretch along the page's own axes, drawn over true
	sy    float64
	shift geometry.Point // drawing units
	noise float64        // mm
	c     Case
}

// Make returns the case with that number; the same seed and number give the
// same case.
func Make(seed uint64, number int) Case {
	m := &maker{rng: rand.New(rand.NewPCG(seed, uint64(number))), sx: 1, sy: 1}
	m.c.Number = number
	m.c.Drawing = &drawing.Drawing{Format: "dxf", Kinds: map[string]int{}}
	m.choosePage()
	m.chooseScale()
	m.chooseManner()
	art := m.artwork()
	m.draw(art)
	m.judge()
	return m.c
}

func (m *maker) chance(p float64) bool { return m.rng.Float64() < p }

func (m *maker) between(lo, hi float64) float64 { return lo + (hi-lo)*m.rng.Float64() }

func (m *maker) note(format string, args ...any) {
	m.c.Truth.Spoilings = append(m.c.Truth.Spoilings, fmt.Sprintf(format, args...))
}

// toUnits maps mm on the upright page to drawing units.
func (m *maker) toUnits() geometry.Affine {
	return geometry.Scale(m.sx, m.sy).
		Then(geometry.Rotate(m.turn)).
		Then(geometry.Scale(1/m.mmPer, 1/m.mmPer)).
		Then(geometry.Translate(m.shift.X, m.shift.Y))
}

// chooseManner picks what is done to the drawing besides losing its size.
func (m *maker) chooseManner() {
	switch {
	case m.chance(0.15):
		m.turn = float64(1+m.rng.IntN(3)) * math.Pi / 2
		m.note("turned by quarter turns")
	case m.chance(0.15) && m.sx == 1 && m.sy == 1:
		m.turn = m.between(-math.Pi, math.Pi)
		m.note("turned by %.1f°", m.turn*180/math.Pi)
	}
	if m.chance(0.5) {
		m.noise = m.between(0.002, 0.02)
		m.note("noise up to %.3f mm", m.noise)
	}
	switch {
	case m.chance(0.05):
		m.shift = geometry.Pt(m.between(-5e5, 5e5)/m.mmPer, m.between(-5e5, 5e5)/m.mmPer)
		m.note("survey coordinates")
	case m.chance(0.5):
		m.shift = geometry.Pt(m.between(-500, 500)/m.mmPer, m.between(-500, 500)/m.mmPer)
	}
}
