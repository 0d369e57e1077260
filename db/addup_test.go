package db_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/db/dbtest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"
)

// books is a ledger beside the one in the database: what lies where, counted movement
// by movement.
type books struct {
	lots   map[string]map[string]int64
	held   map[uuid.UUID]map[string]db.Holding
	moved  []moved
	random *rand.Rand
}

type moved struct {
	month, cost string
	of          db.Movement
}

// post moves amounts between accounts that hold them, and says for which acceptance.
func (b *books) post(acceptance uuid.UUID, month, cost string) (moves []db.Movement) {
	accounts := []string{"outside", "free", "reserved", "issued", "used", "spoiled"}
	kinds := []string{"receipt", "reserve", "release", "issue", "use", "spoil", "return", "offcut"}
	for range 1 + b.random.IntN(3) {
		lot := []string{"A1", "B2", "C3"}[b.random.IntN(3)]
		source, target := accounts[b.random.IntN(6)], accounts[b.random.IntN(6)]
		most := b.lots[lot][source]
		if source == "outside" {
			most = 20
		}
		if source == target || most == 0 {
			continue
		}
		m := db.Movement{Kind: kinds[b.random.IntN(8)], Lot: lot, Source: source, Target: target, Amount: 1 + b.random.Int64N(most)}
		b.lots[lot][source] -= m.Amount
		b.lots[lot][target] += m.Amount
		h := b.held[acceptance][lot]
		h.Reserved += m.Amount * (is(target, "reserved") - is(source, "reserved"))
		h.Issued += m.Amount * (is(target, "issued") - is(source, "issued"))
		b.held[acceptance][lot] = h
		moves = append(moves, m)
		b.moved = append(b.moved, moved{month, cost, m})
	}
	return moves
}

// singles are acceptances with one thing each: reserved, issued, given back, none.
func (b *books) singles(t *testing.T, store *db.DB, accepted *[]uuid.UUID) {
	t.Helper()
	for _, way := range [][]string{{"outside", "free", "reserved"}, {"outside", "free", "reserved", "issued"}, {"outside", "free", "reserved", "free"}, {"outside", "free"}} {
		id := uuid.New()
		*accepted = append(*accepted, id)
		b.held[id] = map[string]db.Holding{"A1": {Reserved: 3 * is(way[len(way)-1], "reserved"), Issued: 3 * is(way[len(way)-1], "issued")}}
		for i, target := range way[1:] {
			m := db.Movement{Kind: "receipt", Lot: "A1", Source: way[i], Target: target, Amount: 3}
			if err := store.Post(t.Context(), db.Posting{ID: uuid.New(), Kind: "receipt", Acceptance: &id}, m); err != nil {
				t.Fatal(err)
			}
			b.lots["A1"][m.Source] -= 3
			b.lots["A1"][m.Target] += 3
			b.moved = append(b.moved, moved{time.Now().UTC().Format("2006-01"), "", m})
		}
	}
}

func is(account, what string) int64 {
	if account == what {
		return 1
	}
	return 0
}

// report is what the stores report says of the movements.
func (b *books) report(from, stock, cost string) (want []db.StoresAmounts) {
	sums := map[[3]string]*db.StoresAmounts{}
	for _, m := range b.moved {
		of := "stock " + m.of.Lot
		if m.month < from || stock != "" && of != stock || cost != "" && m.cost != cost {
			continue
		}
		key := [3]string{m.month, of, m.cost}
		if sums[key] == nil {
			sums[key] = &db.StoresAmounts{Period: m.month, Stock: of, Family: "card", CostCode: m.cost, Kind: "sheets"}
		}
		s, n := sums[key], m.of.Amount
		toFree := n
		if m.of.Target != "free" {
			toFree = -n
		}
		switch m.of.Kind {
		case "receipt":
			s.Received += toFree
		case "return":
			s.Returned += toFree
		case "offcut":
			s.Offcuts += toFree
		case "issue":
			s.Quoted += n * (is(m.of.Source, "reserved") - is(m.of.Target, "reserved"))
		}
		s.Used += n * (is(m.of.Target, "used") - is(m.of.Source, "used"))
		s.Spoiled += n * (is(m.of.Target, "spoiled") - is(m.of.Source, "spoiled"))
	}
	for _, s := range sums {
		if s.Received|s.Quoted|s.Used|s.Spoiled|s.Returned|s.Offcuts != 0 {
			want = append(want, *s)
		}
	}
	slices.SortFunc(want, func(a, b db.StoresAmounts) int {
		return slices.Compare([]string{a.Period, a.Stock, a.CostCode}, []string{b.Period, b.Stock, b.CostCode})
	})
	return want
}

// Four hundred postings by chance: what lots hold, what acceptances hold, and the
// report by month, stock and cost code are what movements come to one by one.
func TestLedgerAddsUp(t *testing.T) {
	b := backlog{t, db.From(dbtest.New(t))}
	store, ctx := b.store, t.Context()
	mine := books{lots: map[string]map[string]int64{}, held: map[uuid.UUID]map[string]db.Holding{}, random: rand.New(rand.NewPCG(1, 0))}
	for _, code := range []string{"A1", "B2", "C3"} {
		b.run(`insert into lots (code, kind, item, stock, family, counted) values ($1, 'sheets', 'stock ' || $1, 'stock ' || $1, 'card', true)`, code)
		mine.lots[code] = map[string]int64{}
	}
	var accepted []uuid.UUID
	for range 8 {
		accepted = append(accepted, uuid.New())
		mine.held[accepted[len(accepted)-1]] = map[string]db.Holding{}
	}
	b.run(`alter table postings disable trigger user`) // so that some can be older
	for i := range 400 {
		id, of, month, cost := uuid.New(), accepted[i%8], fmt.Sprintf("2026-0%d", 1+i%3), []string{"", "art", "craft"}[i%7%3]
		moves := mine.post(of, month, cost)
		if err := store.Post(ctx, db.Posting{ID: id, Kind: "receipt", Acceptance: &of, CostCode: cost}, moves...); err != nil {
			t.Fatal(err)
		}
		b.run(`update postings set created = $2::timestamptz where id = $1`, id, month+"-03T12:00:00Z")
		if got, err := store.Movements(ctx, id); err != nil || len(moves) > 0 && !slices.Equal(got, moves) {
			t.Fatalf("%v were posted, %v are there, %v", moves, got, err)
		}
	}
	mine.singles(t, store, &accepted)
	for code, want := range mine.lots {
		var free, reserved, issued int64
		if err := store.Pool.QueryRow(ctx, `select free, reserved, issued from lots where code = $1`, code).Scan(&free, &reserved, &issued); err != nil {
			t.Fatal(err)
		}
		if free != want["free"] || reserved != want["reserved"] || issued != want["issued"] {
			t.Errorf("lot %s: %d free, %d reserved, %d issued, want %v", code, free, reserved, issued, want)
		}
	}
	for _, id := range accepted {
		var want []db.Holding
		for _, code := range []string{"A1", "B2", "C3"} {
			if h := mine.held[id][code]; h.Reserved != 0 || h.Issued != 0 {
				want = append(want, db.Holding{Lot: code, Kind: "sheets", Item: "stock " + code, Counted: true, Reserved: h.Reserved, Issued: h.Issued})
			}
		}
		if got, err := store.Holdings(ctx, id); err != nil || len(got)+len(want) > 0 && cmp.Diff(want, got) != "" {
			t.Errorf("held: %v, %v, want %v", got, err, want)
		}
	}
	february := time.Date(2026, 2, 1, 0, 0, 0, 0, time.UTC)
	for _, f := range []db.StoresFilter{{}, {Stock: "stock B2"}, {CostCode: "art"}, {From: &february}, {From: &february, Stock: "stock C3", CostCode: "craft"}} {
		from := ""
		if f.From != nil {
			from = "2026-02"
		}
		f.Format = "YYYY-MM"
		got, err := store.StoresAmounts(ctx, f)
		if diff := cmp.Diff(mine.report(from, f.Stock, f.CostCode), got); err != nil || diff != "" {
			t.Errorf("%+v: %v\n%s", f, err, diff)
		}
	}
	for _, account := range []string{"free", "reserved", "issued"} {
		if got, err := store.Unbalanced(ctx); err != nil || len(got) > 0 {
			t.Errorf("%v are said to be wrong, %v", got, err)
		}
		b.run(`update lots set ` + account + ` = ` + account + ` + 1 where code = 'B2'`)
		if got, err := store.Unbalanced(ctx); err != nil || !slices.Equal(got, []string{"B2"}) {
			t.Errorf("with one more %s in B2 %v are said to be wrong, %v", account, got, err)
		}
		b.run(`update lots set ` + account + ` = ` + account + ` - 1 where code = 'B2'`)
	}
}

// Of jobs that were timed the newest are given, so many as are asked for, and none of
// which the outcome was taken back; nor is the wear of blades counted by such.
func TestOutcomesTakenBackCountNoMore(t *testing.T) {
	b := backlog{t, db.From(dbtest.New(t))}
	store, ctx := b.store, t.Context()
	var ids []uuid.UUID
	for i := range 6 {
		id := uuid.New()
		ids = append(ids, id)
		b.run(`insert into postings (id, kind, created) values ($1, 'outcome', now() - make_interval(days => $2))`, id, []int{3, 1, 6, 2, 5, 4}[i])
		if err := store.AddTimedJob(ctx, id, fmt.Appendf(nil, "%d", i)); err != nil {
			t.Fatal(err)
		}
		if err := store.AddWear(ctx, id, []db.Wear{{Blade: "b", Machine: "m", Family: []string{"card", "film"}[i%2], CutMM: 1 << i}}); err != nil {
			t.Fatal(err)
		}
	}
	told := func(most int) (list string) {
		t.Helper()
		rows, err := store.TimedJobs(ctx, most)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range rows {
			list += string(r)
		}
		return list
	}
	worn := func() []int64 {
		t.Helper()
		rows, err := store.Worn(ctx)
		if err != nil || len(rows) != 2 || rows[0].Family != "card" {
			t.Fatal(rows, err)
		}
		return []int64{rows[0].CutMM, rows[1].CutMM}
	}
	if got := told(10) + " " + told(4) + " " + told(0); got != "130542 1305 " {
		t.Errorf("timed, the newest first: %s", got)
	}
	if got := worn(); !slices.Equal(got, []int64{1 + 4 + 16, 2 + 8 + 32}) {
		t.Errorf("worn: %v", got)
	}
	for _, i := range []int{3, 4} {
		if back, err := store.IsReversed(ctx, ids[i]); back || err != nil {
			t.Errorf("%d is taken back: %v", i, err)
		}
		b.run(`insert into postings (id, kind, reverses) values ($1, 'reversal', $2)`, uuid.New(), ids[i])
		if back, err := store.IsReversed(ctx, ids[i]); !back || err != nil {
			t.Errorf("%d is not taken back: %v", i, err)
		}
	}
	if got := told(10) + " " + told(3); got != "1052 105" {
		t.Errorf("timed, without 3 and 4: %s", got)
	}
	if got := worn(); !slices.Equal(got, []int64{1 + 4, 2 + 32}) {
		t.Errorf("worn without 3 and 4: %v", got)
	}
}
