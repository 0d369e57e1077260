package db

import (
	"context"
	"time"

	"github.com/google/uuid"
)

// Acceptance is the price of a plan that its client took, and how long the stock
// for it is held.
type Acceptance struct {
	ID               uuid.UUID  `db:"id"`
	Plan             uuid.UUID  `db:"plan"`
	State            string     `db:"state"` // held, lapsed, freed, issued, closed
	TotalMinor       int64      `db:"total_minor"`
	TotalText        string     `db:"total_text"`
	PriceUntil       time.Time  `db:"price_until"`
	HeldUntil        time.Time  `db:"held_until"`
	Warned           bool       `db:"warned"` // it was told that it lapses soon
	BookingReference string     `db:"booking_reference"`
	BookingEnds      *time.Time `db:"booking_ends"`
	CostCode         string     `db:"cost_code"`
	Created          time.Time  `db:"created"`
	Updated          time.Time  `db:"updated"`
}

const acceptanceColumns = `a.id, a.plan, a.state, a.total_minor, a.total_text, a.price_until, a.held_until, a.warned,
	a.booking_reference, a.booking_ends, a.cost_code, a.created, a.updated`

// Acceptance returns the last acceptance of a plan; ErrNotFound where it was
// never accepted. Who locks the plan first has it to themselves.
func (q acceptanceTable) Acceptance(ctx context.Context, plan uuid.UUID) (Acceptance, error) {
	return one[Acceptance](ctx, q.on, "read an acceptance",
		`select `+acceptanceColumns+` from acceptances a where a.plan = $1 order by a.place desc limit 1`, plan)
}

// AcceptanceHead is an acceptance in a list.
type AcceptanceHead struct {
	Acceptance
	Client          string `db:"client"` // whose plan it is
	ClientReference string `db:"client_reference"`
}

// AcceptanceFilter picks acceptances of one client's plans, or of AnyClient's; its
// other fields pick all where they are zero.
type AcceptanceFilter struct {
	Client           string
	ClientReference  string // of the plan
	BookingReference string
	State            string
	Before           *Cursor
	Limit            int
}

// AcceptanceHeads lists acceptances, the newest first.
func (q acceptanceTable) AcceptanceHeads(ctx context.Context, f AcceptanceFilter) ([]AcceptanceHead, error) {
	created, id := f.Before.parts()
	return all[AcceptanceHead](ctx, q.on, "list acceptances", `
		select `+acceptanceColumns+`, p.client, p.client_reference from acceptances a join plans p on p.id = a.plan
		where `+whose("p", f.Client)+`
			and ($2 = '' or p.client_reference = $2)
			and ($3 = '' or a.booking_reference = $3)
			and ($4 = '' or a.state = $4)
			and ($5::timestamptz is null or (a.created, a.id) < ($5, $6::uuid))
		order by a.created desc, a.id desc limit $7`,
		f.Client, f.ClientReference, f.BookingReference, f.State, created, id, f.Limit)
}

// PlanOfAcceptance returns the plan of an acceptance; ErrNotFound where it was
// erased.
func (q acceptanceTable) PlanOfAcceptance(ctx context.Context, id uuid.UUID) (uuid.UUID, error) {
	var plan uuid.UUID
	err := q.conn.QueryRow(ctx, `select plan from acceptances where id = $1`, id).Scan(&plan)
	return plan, wrap("find the plan of an acceptance", err)
}

// AddAcceptance adds an acceptance, which is held. Of a it reads all but State,
// Warned, Created and Updated.
func (q acceptanceTable) AddAcceptance(ctx context.Context, a Acceptance) (Acceptance, error) {
	return one[Acceptance](ctx, q.on, "add an acceptance", `
		insert into acceptances as a (id, plan, state, total_minor, total_text, price_until, held_until, booking_reference, booking_ends, cost_code)
		values ($1, $2, 'held', $3, $4, $5, $6, $7, $8, $9) returning `+acceptanceColumns,
		a.ID, a.Plan, a.TotalMinor, a.TotalText, a.PriceUntil, a.HeldUntil, a.BookingReference, a.BookingEnds, a.CostCode)
}

// SetAcceptance changes the state, the times and the booking of an acceptance
// that is there, and tells those who watch its plan.
func (q acceptanceTable) SetAcceptance(ctx context.Context, a Acceptance) error {
	err := q.touch(ctx, "change an acceptance", `
		update acceptances set state = $2, held_until = $3, warned = $4, booking_reference = $5, booking_ends = $6, updated = now()
		where id = $1`, a.ID, a.State, a.HeldUntil, a.Warned, a.BookingReference, a.BookingEnds)
	if err != nil {
		return err
	}
	return q.TellPlan(ctx, a.Plan)
}

// TellPlan raises the version of a plan of which something beside its own row
// has changed, and tells those who watch it.
func (q acceptanceTable) TellPlan(ctx context.Context, plan uuid.UUID) error {
	return q.touch(ctx, "tell of a plan", `
		with told as (update plans set version = version + 1 where id = $1 returning id, status)
		select pg_notify($2, id::text || ' ' || status) from told`, plan, planChannel)
}

// DueAcceptances returns the plans whose stock is held up to a time before the
// given one, the longest due first; with warn only those of which it was not
// told yet.
func (q acceptanceTable) DueAcceptances(ctx context.Context, before time.Time, warn bool, limit int) ([]uuid.UUID, error) {
	return column[uuid.UUID](ctx, q.on, "find what lapses", `
		select a.plan from acceptances a
		where a.state = 'held' and a.held_until <= $1 and not ($2 and a.warned)
		order by a.held_until, a.id limit $3`, before, warn, limit)
}

// SpoiledPiece is one that was cut badly, of a plan that was accepted.
type SpoiledPiece struct {
	Copy   int    `db:"copy"`  // from 1
	Piece  int    `db:"piece"` // its number in the weeding map; 0: the whole copy
	Reason string `db:"reason"`
}

// AddSpoiledPieces notes what was cut badly. What is noted already stays.
func (q acceptanceTable) AddSpoiledPieces(ctx context.Context, acceptance uuid.UUID, pieces []SpoiledPiece) error {
	n := len(pieces)
	copies, numbers, reasons := make([]int, n), make([]int, n), make([]string, n)
	for i, p := range pieces {
		copies[i], numbers[i], reasons[i] = p.Copy, p.Piece, p.Reason
	}
	_, err := q.exec(ctx, "note spoiled pieces", `
		insert into spoiled_pieces (acceptance, copy, piece, reason)
		select $1, s.copy, s.piece, s.reason from unnest($2::int[], $3::int[], $4::text[]) s (copy, piece, reason)
		on conflict do nothing`, acceptance, copies, numbers, reasons)
	return err
}

// SpoiledPieces returns what was cut badly, in order.
func (q acceptanceTable) SpoiledPieces(ctx context.Context, acceptance uuid.UUID) ([]SpoiledPiece, error) {
	return all[SpoiledPiece](ctx, q.on, "read spoiled pieces",
		`select copy, piece, reason from spoiled_pieces where acceptance = $1 order by copy, piece`, acceptance)
}

// ClearSpoiledPieces takes the notes of what was cut badly away.
func (q acceptanceTable) ClearSpoiledPieces(ctx context.Context, acceptance uuid.UUID) error {
	_, err := q.exec(ctx, "clear spoiled pieces", `delete from spoiled_pieces where acceptance = $1`, acceptance)
	return err
}

// ForgetAcceptances removes all acceptances of a plan, and what people wrote to
// the postings about them. The postings stay, by which nobody finds the plan.
func (q acceptanceTable) ForgetAcceptances(ctx context.Context, plan uuid.UUID) error {
	_, err := q.exec(ctx, "forget what was written of a plan", `
		delete from posting_notes n using postings p, acceptances a
		where n.posting = p.id and p.acceptance = a.id and a.plan = $1`, plan)
	if err != nil {
		return err
	}
	_, err = q.exec(ctx, "forget acceptances", `delete from acceptances where plan = $1`, plan)
	return err
}
