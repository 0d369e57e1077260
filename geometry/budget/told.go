package budget

import "context"

type toldKey struct{}

// Telling returns a context whose computations tell how far they have come: a share
// from 0 to 1, now and then and from any goroutine of theirs. It changes no result.
func Telling(ctx context.Context, tell func(share float64)) context.Context {
	return context.WithValue(ctx, toldKey{}, tell)
}

// Part returns a context for a part of a computation, which takes the whole from one
// share to another.
func Part(ctx context.Context, from, to float64) context.Context {
	tell, listened := ctx.Value(toldKey{}).(func(float64))
	if !listened {
		return ctx
	}
	return Telling(ctx, func(share float64) { tell(from + (to-from)*share) })
}

// Part returns a Budget of any number of steps for a part of a computation, as Part
// does.
func (b *Budget) Part(from, to float64) *Budget {
	part := b.Fork()
	if part.ctx != nil {
		part.ctx = Part(part.ctx, from, to)
	}
	return part
}

// Tell says how far the computation has come, from 0 to 1.
func (b *Budget) Tell(share float64) {
	if tell, listened := b.Value(toldKey{}).(func(float64)); listened {
		tell(share)
	}
}
