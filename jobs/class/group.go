package class

import (
	"maps"

	"knifedesk/jobs/ask"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/share"
)

// TermsOf says with what the work of a plan may lie on one load.
func TermsOf(r *plan.Request) share.Terms {
	return share.Terms{Stock: r.Stock.ID, Hold: r.Stock.Hold, Machine: r.Machine.ID, Purpose: r.Purpose, Mirrored: r.Stock.CutMirrored(r.Mirror)}
}

// Common returns of a member's request what holds for all that lies on a load with it:
// nothing that was said of its drawing alone, and how the set has them laid.
func (t *Terms) Common(r *plan.Request) *plan.Request {
	c := *r
	c.Copies, c.Turned, c.Size, c.Members, c.Again, c.DrawnFor = 1, nil, plan.Size{}, nil, nil, nil
	c.Options.Page, c.Options.Nesting = 0, t.Nesting.Asked()
	c.Replies = nil
	for _, job := range []string{layout.Name, passes.Name} {
		own := r.Replies.Of(job)
		maps.DeleteFunc(own, func(id string, _ ask.Reply) bool { return id == ask.Rest })
		if len(own) > 0 && c.Replies == nil {
			c.Replies = ask.Replies{}
		}
		maps.Copy(c.Replies, own)
	}
	return &c
}
