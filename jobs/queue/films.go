package queue

import (
	"context"
	"errors"
	"maps"

	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/queue/ledger"

	"github.com/google/uuid"
)

// films are the plans of the other films of a layered work, and what has to be changed in
// them as in the one that was changed: what is decided of the drawing holds for all.
type films struct {
	plans []uuid.UUID
	alter []func(*move) error
}

// others notes the plans of the other films. It fails with ErrAccepted where the price of
// one is taken: the films would not fit each other any more.
func (f *films) others(ctx context.Context, m *move, question string) error {
	if !jobs.OfAllFilms(question) || len(f.plans) > 0 {
		return nil
	}
	for _, text := range m.request.FilmPlans {
		id, err := uuid.Parse(text)
		if err != nil || id == m.plan.ID {
			continue
		}
		switch a, err := ledger.Of(ctx, m.tx.Queries, id); {
		case err != nil:
			return err
		case a.Binds():
			return ErrAccepted
		}
		f.plans = append(f.plans, id)
	}
	return nil
}

// give notes that a reply is given in the others too.
func (f *films) give(ctx context.Context, question ask.Question, r Reply) {
	if !jobs.OfAllFilms(r.Question) {
		return
	}
	f.alter = append(f.alter, func(m *move) error {
		given := maps.Clone(m.request.Replies)
		if given == nil {
			given = ask.Replies{}
		}
		given[r.Question] = ask.Reply{Answer: r.Answer, MM: r.MM, Reason: r.Reason}
		m.request.Replies = given
		return m.remember(ctx, question, r, false)
	})
}

// take notes that a reply is taken back in the others too.
func (f *films) take(ctx context.Context, question ask.Question, r Reply) {
	if !jobs.OfAllFilms(r.Question) {
		return
	}
	f.alter = append(f.alter, func(m *move) error {
		if _, there := m.request.Replies[r.Question]; !there {
			return nil
		}
		left := maps.Clone(m.request.Replies)
		delete(left, r.Question)
		m.request.Replies = left
		return m.remember(ctx, question, r, true)
	})
}

// change changes the others, each in a transaction of its own: whoever changes two plans at
// once would have to lock them in an order. What was cancelled or erased is left.
func (f *films) change(ctx context.Context, q *Queue, client string) error {
	if len(f.alter) == 0 {
		return nil
	}
	for _, id := range f.plans {
		_, err := q.change(ctx, client, id, func(m *move) error {
			for _, alter := range f.alter {
				if err := alter(m); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil && !errors.Is(err, ErrState) && !errors.Is(err, db.ErrNotFound) {
			return err
		}
	}
	return nil
}
