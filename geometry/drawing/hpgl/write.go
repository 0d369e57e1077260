// Package hpgl writes plotter files in HP-GL/2 with standard instructions only
// (IN, IP, VS, FS, SP, PU, PD, and AA for arcs where they are wanted), at true size.
//
// One plotter unit is 0.025 mm, 40 to the mm. x and y are those of the paths:
// for a load, across the feed and along it, from the corner of the stock.
package hpgl

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"

	"knifedesk/geometry"
)

// UnitsPerMM is the number of plotter units in a mm.
const UnitsPerMM = 40

// ChordMM is how far curves may stray when they are written as chords: a fifth of
// a plotter unit, since the tip of a knife sums up what its axis strays.
const ChordMM = 0.005

// Pen is what is drawn with one pen number: a pass, in order.
type Pen struct {
	Number   int     // from 1
	SpeedMMS float64 // 0: as the machine is set
	// Force is the number that FS names, where the machine's maker says what it
	// means; 0: as the machine is set.
	Force int
	Arcs  bool // arcs about a point of the grid stay arcs; else they are chords as all curves are
	Paths []geometry.Path
}

// Page is the sheet in mm; the zero Page is not written.
type Page geometry.Box

// RangeError says that a coordinate does not fit the format: HP-GL/2 counts
// from −2²³ to 2²³−1 units, about 210 m either way.
type RangeError struct{ At geometry.Point }

func (e *RangeError) Error() string {
	return fmt.Sprintf("hpgl: (%g, %g) mm lies outside what a plotter file holds", e.At.X, e.At.Y)
}

// Write writes the pens one after the other, each with its paths in order, and
// puts the pen away at the end. The page stands in the file as the scaling points
// (IP), which move nothing. A path that is shorter than a unit is left out.
//
// Speeds are written for all pens or, where one is below what VS can say, for
// none: the speed of the pen before would hold for it.
func Write(w io.Writer, page Page, pens []Pen) error {
	e := &encoder{w: bufio.NewWriter(w)}
	e.put("IN;\n")
	if page != (Page{}) {
		p1, err := toUnits(page.Min)
		p2, err2 := toUnits(page.Max)
		if err := cmp.Or(err, err2); err != nil {
			return err
		}
		e.points("IP", []unitPoint{p1, p2})
	}
	speeds := SaysSpeeds(pens)
	for _, pen := range pens {
		if pen.Number < 1 {
			return fmt.Errorf("hpgl: pen %d: pens are counted from 1", pen.Number)
		}
		e.put("SP", strconv.Itoa(pen.Number), ";\n")
		if speeds && pen.SpeedMMS > 0 {
			e.put("VS", strconv.Itoa(int(Speed(pen.SpeedMMS)/cmPerS)), ";\n")
		}
		if pen.Force > 0 {
			e.put("FS", strconv.Itoa(pen.Force), ";\n")
		}
		for _, p := range pen.Paths {
			if err := e.path(p, pen.Arcs); err != nil {
				return err
			}
		}
	}
	e.put("PU;\nSP0;\n")
	return e.w.Flush()
}

// cmPerS is the step of VS in mm/s.
const cmPerS = 10

// Speed returns what VS can say of a speed in mm/s: whole cm/s up to 127, rounded
// down so that a tested speed is never exceeded. Below 1 cm/s it can say nothing,
// and the speed is returned as it is.
func Speed(mms float64) float64 {
	if mms < cmPerS {
		return mms
	}
	return math.Min(127, math.Floor(mms/cmPerS+1e-9)) * cmPerS
}

// SaysSpeeds reports whether a file says the speeds of these pens.
func SaysSpeeds(pens []Pen) bool {
	return !slices.ContainsFunc(pens, func(p Pen) bool { return p.SpeedMMS > 0 && p.SpeedMMS < cmPerS })
}

type encoder struct{ w *bufio.Writer }

// put writes the parts; the writer keeps the first error for Flush.
func (e *encoder) put(parts ...string) {
	for _, s := range parts {
		e.w.WriteString(s)
	}
}

type unitPoint struct{ x, y int }

func (e *encoder) points(instruction string, pts []unitPoint) {
	b := append(e.w.AvailableBuffer(), instruction...)
	for i, p := range pts {
		if i > 0 {
			b = append(b, ',')
		}
		b = strconv.AppendInt(b, int64(p.x), 10)
		b = append(b, ',')
		b = strconv.AppendInt(b, int64(p.y), 10)
	}
	e.w.Write(append(b, ";\n"...))
}

func toUnits(p geometry.Point) (unitPoint, error) {
	x, y := math.Round(p.X*UnitsPerMM), math.Round(p.Y*UnitsPerMM)
	const least, most = -1 << 23, 1<<23 - 1
	if !(x >= least && x <= most && y >= least && y <= most) {
		return unitPoint{}, &RangeError{p}
	}
	return unitPoint{int(x), int(y)}, nil
}
