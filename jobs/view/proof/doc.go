// Package proof prints a drawing on paper at the size at which it would be cut, in
// tiles for any printer, so that a question about the size is answered at home: beside
// each tile stand the outline of a bank card and a rule of 100 mm.
package proof

import (
	"context"
	"errors"
	"fmt"
	"io"

	"knifedesk/geometry/budget"
	"knifedesk/jobs/view"
)

// Paper is a size of paper in mm.
type Paper struct{ Width, Height float64 }

// A4 is the paper of ISO 216.
func A4() Paper { return Paper{210, 297} }

// Letter is the paper of ANSI/ASME Y14.1, 8.5 by 11 inches.
func Letter() Paper { return Paper{8.5 * 25.4, 11 * 25.4} }

// ErrNoSize says that no size is known or weighed yet.
var ErrNoSize = errors.New("proof: the drawing has no size yet")

// ErrTooLarge says that the work would take more than MostTiles sheets of paper.
var ErrTooLarge = errors.New("proof: the work takes too many sheets of paper")

// MostTiles bounds the pages of a proof.
const MostTiles = 120

// Write writes the proof of a plan as PDF. Where the plan asks about the size each of
// the likeliest answers is printed, as far as there is room, and says which it is.
// The same plan gives the same bytes. It fails with ErrNoSize, ErrTooLarge and the
// errors of ctx and w.
func Write(ctx context.Context, w io.Writer, r *view.Results, paper Paper) (err error) {
	if r.Drawing == nil || r.Size == nil {
		return ErrNoSize
	}
	stopped := budget.Run(ctx, func(b *budget.Budget) { err = write(b, w, r, paper) })
	if stopped != nil {
		return stopped
	}
	return err
}

func write(b *budget.Budget, w io.Writer, r *view.Results, paper Paper) error {
	works, err := worksOf(b, r)
	if err != nil {
		return err
	}
	p := newPress(paper)
	left := MostTiles
	for i := range works {
		g := gridOf(works[i].box, paper)
		tiles := g.tiles(b, &works[i])
		if left -= len(tiles); left < 0 && i == 0 {
			return ErrTooLarge
		} else if left < 0 {
			break
		}
		for _, t := range tiles {
			p.page(b, &works[i], g, t)
		}
	}
	if err := p.Output(w); err != nil {
		return fmt.Errorf("proof: %w", err)
	}
	return nil
}
