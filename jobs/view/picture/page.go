package picture

import (
	"context"

	"knifedesk/geometry"
	"knifedesk/geometry/budget"
	"knifedesk/geometry/figure"
	"knifedesk/jobs/finding"
)

// page is a picture being made, with the words that the jobs share.
type page struct {
	*figure.Page
	b    *budget.Budget
	open map[finding.Code]bool // the faults that are asked about on the page
	// framed is a frame that is drawn: a place that is the frame has no box of its own.
	framed geometry.Box
}

func newPage(b *budget.Budget, title, subtitle string) *page {
	return &page{Page: figure.New(b, figure.FormatOf(b), title, subtitle), b: b, open: map[finding.Code]bool{}, framed: geometry.EmptyBox()}
}

// finished returns the picture that draw makes, or the error of ctx where that
// ends before.
func finished(ctx context.Context, draw func(b *budget.Budget) *page) (*figure.Picture, error) {
	var done *figure.Picture
	err := budget.Run(ctx, func(b *budget.Budget) { done = draw(b).Finish() })
	return done, err
}

// leftOut says what detail was left out.
func (p *page) leftOut(d figure.Detail) {
	if d.Least > 0 {
		p.Paragraph(0, "Of lines smaller than "+figure.Number(d.Least)+" mm that lie together only one is shown.")
	}
}
