package queue

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"

	"knifedesk/db"
	"knifedesk/jobs/ask"

	"github.com/google/uuid"
)

// ErrState: the plan's status does not allow it.
var ErrState = errors.New("jobs: not while the plan has this status")

// The codes of a ReplyError.
const (
	UnknownQuestion = "unknown_question" // never asked of this plan
	UnknownAnswer   = "unknown_answer"   // not among the question's answers
	LengthMissing   = "length_missing"   // the answer needs a length above 0 mm
	LengthNotTaken  = "length_not_taken" // the answer has no use for a length
)

// ReplyError says why an answer was not taken.
type ReplyError struct {
	Question string
	Code     string
}

func (e *ReplyError) Error() string {
	return fmt.Sprintf("jobs: the answer to %q: %s", e.Question, e.Code)
}

// Reply is an answer to a question of a plan.
type Reply struct {
	Question string
	Answer   string
	MM       float64 // the length, where the answer needs one
	Author   string
}

// Answer takes answers and moves the plan on: the first stage that reads them
// runs again, what comes before it does not. A question that was answered may
// be answered anew, also once the plan is ready. Nothing is taken where one
// answer is not right: a *ReplyError says which. ErrState: it was cancelled.
func (q *Queue) Answer(ctx context.Context, client string, id uuid.UUID, replies ...Reply) (db.Plan, error) {
	return q.change(ctx, client, id, func(tx db.Tx, p *db.Plan) error {
		asked, err := questions(ctx, tx, p.ID)
		if err != nil {
			return err
		}
		given := maps.Clone(p.Request.Replies)
		if given == nil {
			given = ask.Replies{}
		}
		for _, r := range replies {
			question, err := r.Check(asked)
			if err != nil {
				return err
			}
			given[r.Question] = ask.Reply{Answer: r.Answer, MM: r.MM}
			err = tx.AddReply(ctx, p.ID, db.Reply{
				Revision: p.Revision + 1, Question: r.Question, Asked: question,
				Answer: r.Answer, MM: r.MM, Author: r.Author,
			})
			if err != nil {
				return err
			}
		}
		p.Request.Replies = given
		return nil
	})
}

// TakeBack takes the answer to a question back, so that it is open again.
func (q *Queue) TakeBack(ctx context.Context, client string, id uuid.UUID, question, author string) (db.Plan, error) {
	return q.change(ctx, client, id, func(tx db.Tx, p *db.Plan) error {
		asked, err := questions(ctx, tx, p.ID)
		if err != nil {
			return err
		}
		given, ok := p.Request.Replies[question]
		if !ok {
			return &ReplyError{question, UnknownQuestion}
		}
		left := maps.Clone(p.Request.Replies)
		delete(left, question)
		p.Request.Replies = left
		return tx.AddReply(ctx, p.ID, db.Reply{
			Revision: p.Revision + 1, Question: question, Asked: asked[question],
			Answer: given.Answer, MM: given.MM, Author: author, TakenBack: true,
		})
	})
}

// questions returns every question that the plan was ever asked and that is
// open or was answered, by ID.
func questions(ctx context.Context, tx db.Tx, id uuid.UUID) (map[string]ask.Question, error) {
	asked := map[string]ask.Question{}
	past, err := tx.Replies(ctx, id)
	for _, r := range past {
		asked[r.Question] = r.Asked
	}
	if err != nil {
		return nil, err
	}
	heads, err := tx.PlanHeads(ctx, id)
	for _, h := range heads {
		for _, question := range h.Outcome.Questions {
			asked[question.ID] = question
		}
	}
	return asked, err
}

// Check returns the question that the reply answers, of those asked, by ID. It
// fails with a *ReplyError.
func (r Reply) Check(asked map[string]ask.Question) (ask.Question, error) {
	question, ok := asked[r.Question]
	if !ok {
		return question, &ReplyError{r.Question, UnknownQuestion}
	}
	at := slices.IndexFunc(question.Answers, func(a ask.Answer) bool { return a.ID == r.Answer })
	if at < 0 {
		return question, &ReplyError{r.Question, UnknownAnswer}
	}
	needed := question.Answers[at].NeedsMM
	switch {
	case needed && (r.MM <= 0 || math.IsInf(r.MM, 0) || math.IsNaN(r.MM)):
		return question, &ReplyError{r.Question, LengthMissing}
	case !needed && r.MM != 0:
		return question, &ReplyError{r.Question, LengthNotTaken}
	}
	return question, nil
}

// Cancel cancels a plan that is not ready, refused or failed; those come back
// as they are. Others that wait for the same results are not touched.
func (q *Queue) Cancel(ctx context.Context, client string, id uuid.UUID) (db.Plan, error) {
	return q.locked(ctx, client, id, func(m *move) error {
		if m.plan.Status.Settled() && m.plan.Status != db.Asking {
			return nil
		}
		if err := m.tx.StageHalted(ctx, id); err != nil {
			return err
		}
		m.end = db.Cancelled
		return m.settle(ctx)
	})
}

// change alters a plan's request and sends it through the stages anew.
func (q *Queue) change(ctx context.Context, client string, id uuid.UUID, alter func(db.Tx, *db.Plan) error) (db.Plan, error) {
	return q.locked(ctx, client, id, func(m *move) error {
		if m.plan.Status == db.Cancelled {
			return fmt.Errorf("%w: %s", ErrState, m.plan.Status)
		}
		err := alter(m.tx, &m.plan)
		if err != nil {
			return err
		}
		if m.plan.Request, err = canonical(m.plan.Request); err != nil {
			return err
		}
		if err := m.tx.SetRequest(ctx, id, m.plan.Request); err != nil {
			return err
		}
		return m.restart(ctx)
	})
}

// errMoved ends a transaction in which the plan moved on before it was locked.
var errMoved = errors.New("jobs: the plan moved on")

// locked runs do in a transaction that holds the key the plan waits for, and
// then the plan, and returns the plan as it is afterwards.
func (q *Queue) locked(ctx context.Context, client string, id uuid.UUID, do func(*move) error) (db.Plan, error) {
	for {
		var m *move
		var after db.Plan
		err := q.store.InTx(ctx, func(tx db.Tx) (err error) {
			if m, err = q.hold(ctx, tx, client, id); err != nil {
				return err
			}
			if err := do(m); err != nil {
				return err
			}
			after, err = tx.LockPlan(ctx, id)
			return err
		})
		if errors.Is(err, errMoved) {
			continue
		}
		if err == nil {
			q.note(m)
		}
		return after, err
	}
}

func (q *Queue) hold(ctx context.Context, tx db.Tx, client string, id uuid.UUID) (*move, error) {
	held, err := tx.WaitsFor(ctx, id)
	if err != nil {
		return nil, err
	}
	if held != "" {
		if err := tx.LockKey(ctx, held); err != nil {
			return nil, err
		}
	}
	p, err := tx.LockPlan(ctx, id)
	if err == nil && p.Client != client {
		err = db.ErrNotFound
	}
	if err != nil {
		return nil, err
	}
	switch now, err := tx.WaitsFor(ctx, id); {
	case err != nil:
		return nil, err
	case now != held:
		return nil, errMoved
	}
	return &move{Queue: q, tx: tx, plan: p, held: held}, nil
}
