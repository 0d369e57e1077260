package queue

import (
	"context"
	"sync"
	"time"

	"knifedesk/db"
	"knifedesk/geometry/budget"
)

// manners lets long runs, and those that nobody waits for, stand still while a short one
// that somebody waits for is at work in this process: on the processors that they leave,
// that one's ways to Postgres and back are short too.
type manners struct {
	mu      sync.Mutex
	pressed int           // how many press now
	gone    chan struct{} // closed when the last of them is done; nil: none presses
}

// press has others stand still until done is called.
func (m *manners) press() (done func()) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.pressed++; m.pressed == 1 {
		m.gone = make(chan struct{})
	}
	return sync.OnceFunc(func() {
		m.mu.Lock()
		defer m.mu.Unlock()
		if m.pressed--; m.pressed == 0 {
			close(m.gone)
			m.gone = nil
		}
	})
}

// behave has a span press or give way, until done is called: by what it is.
func (m *manners) behave(ctx context.Context, first db.Work) (within context.Context, still *polite, done func()) {
	if first.Queue == db.Interactive && !first.Heavy {
		return ctx, nil, m.press()
	}
	within, still = m.giveWay(ctx)
	return within, still, func() {}
}

// pressing is closed when nobody presses any more; nil: nobody does.
func (m *manners) pressing() chan struct{} {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.gone
}

// mostStill is how long a span stands still in all, of the minute that a run may take.
const mostStill = 10 * time.Second

// polite is a span that gives way. It never stands still for longer in all than it has
// worked, so that nothing comes to more than twice its time.
type polite struct {
	*manners
	began time.Time
	mu    sync.Mutex
	still time.Duration
}

// giveWay returns a context whose computations stand still while others press, and how
// long they have.
func (m *manners) giveWay(ctx context.Context) (context.Context, *polite) {
	p := &polite{manners: m, began: time.Now()}
	return budget.Waiting(ctx, func() { p.wait(ctx) }), p
}

// wait stands still while others press. Goroutines of one span stand still together.
func (p *polite) wait(ctx context.Context) {
	gone := p.pressing()
	if gone == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	from := time.Now()
	worked := from.Sub(p.began) - p.still
	most := time.NewTimer(min(worked, mostStill) - p.still)
	defer most.Stop()
	select {
	case <-gone:
	case <-most.C:
	case <-ctx.Done():
	}
	p.still += time.Since(from)
}

// stood is how long the run has stood still.
func (p *polite) stood() time.Duration {
	if p == nil {
		return 0
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.still
}
