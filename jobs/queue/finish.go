package queue

import (
	"context"
	"errors"
	"slices"
	"time"

	"knifedesk/db"
	"knifedesk/jobs/plan"
)

// finish takes in what the span has computed, unless the work is another's by
// now, and moves everybody on who waited for some of it, all in one transaction
// with which the job is done. What is left of the span is given up, and begun
// anew by those who need it.
func (s *span) finish(ctx context.Context) error {
	mine, err := s.settle(ctx, true)
	if err != nil {
		return err
	}
	if !mine {
		s.log.Warn("results dropped: the work is no longer this attempt's", "results", len(s.done))
		return s.queue.standBack(ctx, s.attempt)
	}
	return nil
}

// handingIn bounds the time that handing in may take while the worker stops.
const handingIn = 10 * time.Second

// handIn takes in what the span has computed so far, also while the worker
// stops, and reports whether the work is this attempt's.
func (s *span) handIn(ctx context.Context) (bool, error) {
	if len(s.done) == 0 {
		return true, s.tell(ctx)
	}
	ctx, cancel := context.WithTimeout(context.WithoutCancel(ctx), handingIn)
	defer cancel()
	return s.settle(ctx, false)
}

// tell shows that the plans that wait are being worked on, once.
func (s *span) tell(ctx context.Context) error {
	if s.told || ctx.Err() != nil {
		return nil
	}
	s.told = true
	key := s.current()
	return s.queue.store.InLooseTx(ctx, func(tx db.Tx) error {
		plans, err := tx.WaitingFor(ctx, s.job)
		if err != nil || len(plans) == 0 {
			return err
		}
		if err := tx.StagesStarted(ctx, key, plans); err != nil {
			return err
		}
		return tx.SetWorking(ctx, plans)
	})
}

func (s *span) settle(ctx context.Context, all bool) (mine bool, err error) {
	var moves []*move
	err = s.queue.store.InTx(ctx, func(tx db.Tx) (err error) {
		moves = nil
		keys, err := s.owned(ctx, tx)
		if mine = len(keys) > 0; err != nil || !mine {
			return err
		}
		if moves, err = s.takeIn(ctx, tx, keys, all); err != nil {
			return err
		}
		if !all {
			return s.charge(ctx, tx)
		}
		if err := tx.EndJob(ctx, s.job); err != nil {
			return err
		}
		return s.queue.refillAtEnd(ctx, tx, s.client, s.spent.Seconds())
	})
	if err != nil || !mine {
		return mine, err
	}
	s.spent = 0
	s.log.Debug("results taken in", "results", len(s.done), "plans", len(moves))
	s.queue.note(ctx, moves...)
	s.done, s.handed = nil, time.Now()
	return true, nil
}

// owned locks the keys of the span and returns them, none where the attempt no
// longer owns the work on them. What was trimmed is nobody's.
func (s *span) owned(ctx context.Context, tx db.Tx) ([]string, error) {
	rows, err := tx.LockSpan(ctx, s.job)
	if err != nil || len(rows) == 0 || rows[0].Attempt != s.number {
		return nil, err
	}
	keys := make([]string, len(rows))
	for i, r := range rows {
		keys[i] = r.Key
	}
	s.done = slices.DeleteFunc(s.done, func(r db.Result) bool { return !slices.Contains(keys, r.Key) })
	return keys, nil
}

// takeIn stores the results, ends the work on them, or on all of the span, and
// moves the plans on.
func (s *span) takeIn(ctx context.Context, tx db.Tx, keys []string, all bool) ([]*move, error) {
	computed := make([]string, len(s.done))
	for i, r := range s.done {
		computed[i] = r.Key
	}
	ended := computed
	if all {
		ended = keys
	}
	waiting, groups, err := tx.LockWaiting(ctx, keys, ended)
	if err != nil {
		return nil, err
	}
	if err := tx.AddResults(ctx, s.done...); err != nil {
		return nil, err
	}
	if err := s.queue.lookLater(ctx, tx, setsOf(groups)...); err != nil {
		return nil, err
	}
	if err := tx.EndWork(ctx, ended...); err != nil {
		return nil, err
	}
	var waiters []db.Waiter // of what has not ended
	if !all {
		if waiters, err = tx.Waiters(ctx, keys...); err != nil {
			return nil, err
		}
	}
	var moves []*move
	for _, p := range waiting {
		m := &move{Queue: s.queue.Queue, tx: tx, plan: p, computed: computed}
		moves = append(moves, m)
		if slices.ContainsFunc(waiters, func(w db.Waiter) bool { return w.Plan == p.ID }) {
			err = m.goesOn(ctx)
		} else {
			err = m.on(ctx)
		}
		if err != nil {
			return nil, err
		}
	}
	return moves, nil
}

// goesOn shows how far a plan is that goes on waiting for the same span.
func (m *move) goesOn(ctx context.Context) error {
	if m.foreign() {
		return nil
	}
	s, err := m.stand(ctx)
	if err != nil {
		return err
	}
	now := time.Now()
	s.status = plan.Working
	return m.show(ctx, s, &now)
}

// ended notes that a run led to no result. The error it returns tells the
// library whether to try again.
func (s *span) ended(ctx context.Context, w db.Work, took time.Duration, fault *runError) error {
	q := s.queue
	if cause := context.Cause(ctx); cause != nil { // nobody waits any more, or the worker stops
		s.log.Info("stage stopped", "stage", w.Stage, "cause", cause, "stuck", fault.stuck)
		q.metrics.ran(w.Stage, "stopped", took)
		_, err := s.handIn(ctx)
		return errors.Join(cause, err)
	}
	if _, err := s.handIn(ctx); err != nil {
		return errors.Join(err, fault)
	}
	if fault.outage {
		return fault
	}
	q.metrics.ran(w.Stage, "fault", took)
	s.log.Error("stage failed", "stage", w.Stage, "err", fault.err, "stuck", fault.stuck)
	failed, mine, err := s.fault(ctx, w, fault)
	switch {
	case err != nil:
		return errors.Join(err, fault)
	case !mine:
		return q.standBack(ctx, s.attempt)
	case len(failed) > 0:
		q.noteFailed(failed, s.log, fault.code())
		return errFailed(fault)
	}
	return fault
}

// fault counts the fault of a run, and fails the plans that wait where there
// were enough.
func (s *span) fault(ctx context.Context, w db.Work, fault *runError) (failed []*move, mine bool, err error) {
	err = s.queue.store.InTx(ctx, func(tx db.Tx) (err error) {
		failed = nil
		keys, err := s.owned(ctx, tx)
		if mine = len(keys) > 0; err != nil || !mine {
			return err
		}
		faults, err := tx.CountFault(ctx, s.job, w.Key)
		if err != nil || faults < s.queue.cfg.Faults && !fault.stuck {
			return err
		}
		if failed, err = s.queue.fail(ctx, tx, keys, w.Key, fault.code()); err != nil {
			return err
		}
		return s.charge(ctx, tx)
	})
	return failed, mine, err
}
