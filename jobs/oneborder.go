package jobs

import (
	"context"
	"fmt"

	"knifedesk/jobs/finding"
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
// borders round each. Nil: that is not asked for, or there is one copy, or nothing to weed;
// or the layout is told why there is none.
func layBordered(ctx context.Context, q layout.Request, m *weeding.Map, each *layout.Layout) (*layout.Layout, error) {
	if !q.OneBorder || q.Copies < 2 || q.Chart.PanelBorder() == 0 || m.Purpose == weeding.Stencil {
		return nil, nil
	}
	if why := borderRefused(q, m, each); why != "" {
		tellNoBorder(each, why)
		return nil, nil
	}
	s, err := share.Lay(ctx, share.Request{Layout: q, Members: []share.Member{{Copies: q.Copies}}}, []*weeding.Map{m})
	if err != nil {
		return nil, err
	}
	switch {
	case s.Usage.StockMM2 > each.Usage.StockMM2 || len(s.Loads) == 0:
		tellNoBorder(each, "it would take more stock than a border round each copy")
	case s.Border != share.BorderLoad:
		tellNoBorder(each, "it would take no less cutting than a border round each copy, or more sheets")
	default:
		return &s.Layout, nil
	}
	return nil, nil
}

// borderRefused says why no border may go round all copies; empty: it may.
func borderRefused(q layout.Request, m *weeding.Map, each *layout.Layout) string {
	switch lines := len(m.Strokes); {
	case each.Panels != nil:
		return "each panel is weeded by itself"
	case !m.Bordered():
		return "each copy is framed by an outline of its own and needs none"
	case q.Copies > mostInBorder || q.Copies*lines > mostLinesInBorder:
		return fmt.Sprintf("it goes round %d copies with %d lines in all at most, and these have %d; ask for %d copies at once",
			mostInBorder, mostLinesInBorder, q.Copies*lines, max(1, min(mostInBorder, mostLinesInBorder/lines)))
	}
	return ""
}

// tellNoBorder says that the one weed border that was asked for is not drawn.
func tellNoBorder(l *layout.Layout, why string) {
	l.Findings = append(l.Findings, finding.New(finding.NoCommonBorder, 1, finding.Values{"why": finding.Text(why)}))
}
