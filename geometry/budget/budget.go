// Package budget lets long computations be stopped and bounds what they may
// cost.
//
// Loops that can run long take steps from a Budget. When the context that it
// was made with ends, the next step that looks at it leaves the whole
// computation at once, however deep, and Run returns the context's error: what
// was being made is dropped, so no function has to hand on half a result. When
// the steps that were allowed are used up, Spend says so and the computation
// goes on to tell what it found: steps are counted and never timed, so that
// the same input ends alike on every machine.
//
//	err := budget.Run(ctx, func(b *budget.Budget) {
//		m = planar.New(b, lines)
//	})
//
// A nil *Budget has no bound and is never stopped.
package budget

import "context"

// look is how many steps are taken between two looks at the context. A step is
// what a loop does in well under a microsecond to a few of them.
const look = 512

// Budget is what a computation may still spend. It is for one goroutine; Fork
// makes one for another.
type Budget struct {
	ctx  context.Context
	wait func() // lets others go first, at a look; nil: nobody
	all  int    // steps allowed; 0: any number
	left int
	next int // steps until the next look at the context
}

// stopped leaves a computation whose context has ended.
type stopped struct{ err error }

// Run runs do with a Budget of any number of steps that stops with ctx. It
// returns the error of ctx where that has stopped do, and nil otherwise.
func Run(ctx context.Context, do func(*Budget)) (err error) {
	defer func() {
		switch p := recover().(type) {
		case nil:
		case stopped:
			err = p.err
		default:
			panic(p)
		}
	}()
	b := &Budget{ctx: ctx}
	b.wait, _ = ctx.Value(waitKey{}).(func())
	b.check()
	do(b)
	return nil
}

// Allow returns a Budget of so many steps that stops when b does.
func (b *Budget) Allow(steps int) *Budget {
	own := b.Fork()
	own.all, own.left = steps, steps
	return own
}

// Fork returns a Budget of any number of steps for another goroutine, which
// stops when b does.
func (b *Budget) Fork() *Budget {
	if b == nil {
		return &Budget{}
	}
	return &Budget{ctx: b.ctx, wait: b.wait}
}

type waitKey struct{}

// Waiting returns a context whose computations call wait at each look, and go on once it
// returns: so what is urgent can go first without being computed faster. Several goroutines of
// one computation call it at the same time.
func Waiting(ctx context.Context, wait func()) context.Context {
	return context.WithValue(ctx, waitKey{}, wait)
}

func (b *Budget) context() context.Context {
	if b == nil {
		return nil
	}
	return b.ctx
}

// Value returns what the context that it was made with holds under a key, as
// context.Context has it.
func (b *Budget) Value(key any) any {
	if ctx := b.context(); ctx != nil {
		return ctx.Value(key)
	}
	return nil
}

// Spend takes n steps and reports whether they were allowed. It does not
// return where the context has ended.
func (b *Budget) Spend(n int) bool {
	if b == nil {
		return true
	}
	if b.next -= n; b.next < 0 {
		b.check()
	}
	b.left -= n
	return b.all == 0 || b.left >= 0
}

// Step takes one step. It does not return where the context has ended. It is short enough
// to be inlined, since it is what inner loops do.
func (b *Budget) Step() {
	if b != nil {
		b.left--
		if b.next--; b.next < 0 {
			b.check()
		}
	}
}

// Over reports whether more steps were taken than are allowed.
func (b *Budget) Over() bool { return b != nil && b.all > 0 && b.left < 0 }

// Allowed is how many steps were allowed in all; 0: any number.
func (b *Budget) Allowed() int {
	if b == nil {
		return 0
	}
	return b.all
}

// Spent is how many steps were taken so far.
func (b *Budget) Spent() int {
	if b == nil {
		return 0
	}
	return b.all - b.left
}

func (b *Budget) check() {
	b.next = look
	if b.ctx == nil {
		return
	}
	if b.wait != nil {
		b.wait()
	}
	if err := b.ctx.Err(); err != nil {
		panic(stopped{context.Cause(b.ctx)})
	}
}
