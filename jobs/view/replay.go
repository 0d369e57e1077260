package view

import (
	"cmp"
	"context"

	"knifedesk/geometry/budget"
	"knifedesk/jobs/view/replay"
	"knifedesk/jobs/workshop"
)

// Replay tells what the machine that the plan was made for does on a load, from 1. It
// fails where there is no such load, with ErrAsked, and with the error of ctx.
func (v *Results) Replay(ctx context.Context, m workshop.Machine, load int) (*replay.Replay, error) {
	if len(v.Passes.Questions) > 0 {
		return nil, ErrAsked
	}
	var out *replay.Replay
	var failed error
	err := budget.Run(ctx, func(b *budget.Budget) {
		out, failed = replay.Of(b, replay.Request{Plan: v.Passes, Laid: v.Layout, Strokes: v.Weeding.Strokes, Machine: m}, load)
	})
	return out, cmp.Or(err, failed)
}
