// Package irregular nests polygons with holes on strips and sheets: where each
// copy lies, and in which turn, so that as little stock is used as is found.
//
// A sheet has a width along x and a length along y, from its lower left
// corner; a strip is a sheet whose length is open. A placement turns the piece
// about the origin of its own coordinates, anticlockwise, and then moves it.
//
// The search begins with a layout that puts one piece after the other. It
// shortens the stock a little at a time, and moves the pieces apart again until
// none overlap, with a weight for every pair that grows while they do; where
// that does not succeed, two large pieces change places. At last it shortens by
// less and less. Several searches run side by side and take over the best of
// each other at fixed counts of steps, so that the outcome depends on the
// problem, the effort and the seed alone, and on no clock or number of
// processors. Whatever is handed out was found to be without overlap exactly.
package irregular

import (
	"errors"
	"strconv"

	"knifedesk/geometry/planar"
)

// Problem is what is to be nested on what.
type Problem struct {
	Pieces []Piece
	Sheet  Sheet
	// ClearanceMM is the least distance between two pieces, and between a piece
	// and a zone; EdgeMM that between a piece and the edge of the sheet.
	ClearanceMM, EdgeMM float64
	// WorthMM is the length that is worth saving. Copies of a piece are turned
	// differently only where that saves as much, or a sheet, and the search ends
	// when no more than that can be left to save. At 0 they turn as they fit.
	WorthMM float64
}

// Piece is a shape and how many of it are wanted.
type Piece struct {
	// Area is the shape in mm. Where it has several polygons they are a group:
	// they keep their places to each other. Others may lie between them, and in
	// holes.
	Area planar.Polygons
	// Hull keeps others out of the whole convex hull.
	Hull   bool
	Demand int
	Turns  []Turn // allowed; none: as it is
}

// Turn is a turn that a piece may take.
type Turn struct {
	Degrees float64 // anticlockwise
	CostMM  float64 // what a copy in this turn costs, as length: against the grain
}

// Sheet is what pieces are nested on.
type Sheet struct {
	WidthMM  float64
	LengthMM float64 // 0: open, a strip
	// Zones of each sheet are left free.
	Zones planar.Polygons
}

// Placement is where a copy of a piece lies.
type Placement struct {
	Piece, Copy int // from 0
	Turn        int // index among the turns of the piece
	Sheet       int // from 0
	XMM, YMM    float64
}

// Layout is an answer.
type Layout struct {
	Placements []Placement // by piece, then by copy
	Sheets     int
	// LengthMM is the length that is used of the last sheet, from its start to
	// the end of the last piece and the distance to the edge after it.
	LengthMM float64
	// CostMM is the cost of all turns.
	CostMM float64
	// LeastSheets and LeastMM bound what any layout takes: by area, and by the
	// length of each piece for itself. LeastMM is the length of the last sheet
	// where there are no more than LeastSheets.
	LeastSheets int
	LeastMM     float64
}

// better reports whether l takes fewer sheets than m, or else less length and
// cost of turns.
func (l *Layout) better(m *Layout) bool {
	if l.Sheets != m.Sheets {
		return l.Sheets < m.Sheets
	}
	return l.total() < m.total()
}

// total is the length of the last sheet and the cost of turns, in mm.
func (l *Layout) total() float64 { return l.LengthMM + l.CostMM }

// The reasons for which a problem is refused.
var (
	ErrEmpty   = errors.New("piece has no area")
	ErrTooWide = errors.New("piece fits the sheet in no allowed turn")
	ErrNoRoom  = errors.New("zones leave no room for a piece")
	ErrSize    = errors.New("measure is negative, or over 50 m")
)

// PieceError says which piece was refused, by its index.
type PieceError struct {
	Piece int
	Err   error
}

// Error says which piece it is, and why.
func (e *PieceError) Error() string { return "piece " + strconv.Itoa(e.Piece) + ": " + e.Err.Error() }

// Unwrap returns the reason.
func (e *PieceError) Unwrap() error { return e.Err }
