package jobs

import (
	"context"

	"knifedesk/jobs/layout"
	"knifedesk/jobs/share"
	"knifedesk/jobs/weeding"
)

// How many copies, and lines of all copies together, get one border at most: each of them
// is a line of its load's map (a matter of computing).
const (
	mostInBorder      = 1000
	mostLinesInBorder = 20_000
)

// layBordered lays copies of film with one weed border round all that lie on a sheet or
// run, each copy under its number, where that takes no more stock and less cutting than
// borders round each. Nil: it may not be, or does not, or there is one copy, or the drawing
// has no border, or they are too many.
func layBordered(ctx context.Context, q layout.Request, m *weeding.Map, each *layout.Layout) (*layout.Layout, error) {
	if !q.OneBorder || q.Copies < 2 || q.Copies > mostInBorder || q.Copies*len(m.Strokes) > mostLinesInBorder || !m.Bordered() {
		return nil, nil
	}
	s, err := share.Lay(ctx, share.Request{Layout: q, Members: []share.Member{{Copies: q.Copies}}}, []*weeding.Map{m})
	if err != nil || len(s.Loads) == 0 || s.Border != share.BorderLoad || s.Usage.StockMM2 > each.Usage.StockMM2 {
		return nil, err
	}
	return &s.Layout, nil
}
