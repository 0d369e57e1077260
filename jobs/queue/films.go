package queue

import (
	"context"
	"maps"
	"slices"

	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/ask"
	"knifedesk/jobs/plan"

	"github.com/google/uuid"
)

// given is an answer that was given, or taken back, to a question.
type given struct {
	question  ask.Question
	reply     Reply
	takenBack bool
}

// reply changes the answers of a plan as check says. What is decided of the drawing of a
// layered work, as ofAll says, is decided in the plans of all its films by the same
// transaction: of two answers at once one is the last in all of them. ErrAccepted where
// the price of one film is taken: the films would not fit each other any more. What was
// cancelled or erased is left.
func reply(ctx context.Context, q *Queue, client string, id uuid.UUID, ofAll bool, check func(*move) ([]given, error)) (Plan, error) {
	var moves []*move
	err := q.store.InTx(ctx, func(tx db.Tx) (err error) {
		if moves, err = holdFilms(ctx, q, tx, client, id, ofAll); err != nil {
			return err
		}
		var all []given
		err = changed(ctx, moves[0], func() (err error) {
			if all, err = check(moves[0]); err != nil {
				return err
			}
			return give(ctx, moves[0], all)
		})
		if err != nil {
			return err
		}
		all = slices.DeleteFunc(all, func(g given) bool { return !jobs.OfAllFilms(g.reply.Question) })
		for _, m := range moves[1:] {
			if m.plan.Status == string(plan.Cancelled) {
				continue
			}
			if err := changed(ctx, m, func() error { return give(ctx, m, all) }); err != nil {
				return err
			}
		}
		return (&intake{Queue: q, tx: tx, moves: moves}).refill(ctx)
	})
	if err != nil {
		return Plan{}, err
	}
	q.note(ctx, moves...)
	return planOf(moves[0].plan), nil
}

// holdFilms holds a plan, which comes first, and with all those of the other films.
func holdFilms(ctx context.Context, q *Queue, tx db.Tx, client string, id uuid.UUID, all bool) ([]*move, error) {
	ids := []uuid.UUID{id}
	if all {
		p, err := tx.Plan(ctx, client, id)
		if err != nil {
			return nil, err
		}
		request, err := RequestOf(p)
		if err != nil {
			return nil, err
		}
		for _, text := range request.FilmPlans {
			if film, err := uuid.Parse(text); err == nil && film != id {
				ids = append(ids, film)
			}
		}
	}
	moves, err := q.hold(ctx, tx, client, ids...)
	if err != nil {
		return nil, err
	}
	own := slices.IndexFunc(moves, func(m *move) bool { return m.plan.ID == id })
	if own < 0 {
		return nil, db.ErrNotFound
	}
	moves[0], moves[own] = moves[own], moves[0]
	return moves, nil
}

// give changes the answers in the request and adds to their history. An answer that was
// given already, such as one that is sent again by whoever lost the reply, is no change.
func give(ctx context.Context, m *move, all []given) error {
	replies := maps.Clone(m.request.Replies)
	if replies == nil {
		replies = ask.Replies{}
	}
	for _, g := range all {
		r := g.reply
		said := ask.Reply{Answer: r.Answer, MM: r.MM, Reason: r.Reason}
		was, there := replies[r.Question]
		if g.takenBack && !there || !g.takenBack && there && was == said {
			continue
		}
		replies[r.Question] = said
		if g.takenBack {
			delete(replies, r.Question)
		}
		if err := m.remember(ctx, g.question, r, g.takenBack); err != nil {
			return err
		}
	}
	m.request.Replies = replies
	return nil
}
