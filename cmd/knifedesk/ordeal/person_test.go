package ordeal

import (
	"context"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"testing"
	"time"
)

// promise is a plan that a client was told of, and what has to become of it.
type promise struct {
	id, kind string
	drawing  drawing
	status   string // as it settled
}

// person sends plans one after the other and remembers what was promised.
type person struct {
	caller
	t     *testing.T
	owner string
	rnd   *rand.Rand
	plans []*promise
	sets  []string // the class sets that it closed
}

// kinds are what plans are sent for.
func kinds() []string {
	return []string{"fresh", "equal", "asked", "cancelled", "accepted", "superseding", "layered", "course"}
}

// sendOne sends a plan and does with it what its kind is about.
func (p *person) sendOne(ctx context.Context) {
	n := len(p.plans)
	made := &promise{kind: kinds()[p.rnd.IntN(len(kinds()))]}
	switch made.kind {
	case "course":
		if err := p.teach(ctx, fmt.Sprint(p.owner, " course ", n)); err != nil {
			p.t.Errorf("%s, a course after %d plans: %v", p.owner, n, err)
		}
		return
	case "equal":
		made.drawing = card(240, p.rnd.IntN(4))
	case "layered":
		made.drawing = layered(p.rnd.IntN(4000))
	case "asked":
		made.drawing = folded(p.rnd.IntN(40))
	default:
		made.drawing = card(240, 10+p.rnd.IntN(4000))
	}
	once := fmt.Sprint(p.owner, " ", n)
	got, err := p.submit(ctx, made.drawing, once, p.rnd.IntN(2) == 0)
	if err != nil {
		p.t.Errorf("%s: %v", once, err)
		return
	}
	made.id = got.ID
	p.plans = append(p.plans, made)
	if err := p.follow(ctx, made, once); err != nil {
		p.t.Errorf("%s, %s: %v", once, made.kind, err)
	}
}

func (p *person) follow(ctx context.Context, made *promise, once string) error {
	switch made.kind {
	case "asked":
		got, err := p.settle(ctx, made.id)
		if err != nil {
			return err
		}
		if got.Status != "asking" {
			return fmt.Errorf("%s is %s and asks nothing", made.id, got.Status)
		}
		_, err = p.answer(ctx, got, once+" answer")
		return err
	case "cancelled":
		time.Sleep(time.Duration(p.rnd.IntN(50)) * time.Millisecond)
		_, err := p.plan(ctx, request{method: "DELETE", path: "/v1/plans/" + made.id})
		return err
	case "accepted":
		if _, err := p.settle(ctx, made.id); err != nil {
			return err
		}
		status, body, err := p.send(ctx, request{method: "POST", path: "/v1/plans/" + made.id + "/acceptance", kind: "application/json", body: []byte(`{}`), once: once + " accept"})
		if err == nil && status >= 300 {
			err = fmt.Errorf("%d %s", status, body)
		}
		return err
	case "superseding":
		return p.supersede(ctx, made, once)
	case "layered":
		got, err := p.settle(ctx, made.id)
		for _, f := range got.Stack.Films {
			if f.Plan != made.id {
				p.plans = append(p.plans, &promise{id: f.Plan, kind: "film", drawing: made.drawing})
			}
		}
		if err == nil && len(got.Stack.Films) != 2 {
			err = fmt.Errorf("%d films", len(got.Stack.Films))
		}
		return err
	}
	return nil
}

// supersede asks for the same in two copies, which takes longer, in the place of a plan
// that is ready.
func (p *person) supersede(ctx context.Context, made *promise, once string) error {
	first, err := p.settle(ctx, made.id)
	if err != nil {
		return err
	}
	body := fmt.Appendf(nil, `{"drawing_id": %q, "stock_id": "card-220-a4", "copies": 2, "supersedes": %q}`, first.Drawing, made.id)
	got, err := p.plan(ctx, request{method: "POST", path: "/v1/plans", kind: "application/json", body: body, once: once + " again", wait: true})
	if err != nil {
		return err
	}
	made.kind = "fresh"
	p.plans = append(p.plans, &promise{id: got.ID, kind: "superseding", drawing: made.drawing})
	return nil
}

// teach holds a course of two, from the set to its end.
func (p *person) teach(ctx context.Context, once string) error {
	tags := []drawing{tag(p.rnd.IntN(4000)), tag(4000 + p.rnd.IntN(4000))}
	set, err := p.course(ctx, once, p.rnd.IntN(2) == 0, tags...)
	for i, m := range set.Members {
		p.plans = append(p.plans, &promise{id: m.Plan, kind: "member", drawing: tags[i]})
	}
	if len(set.Members) > 0 {
		p.sets = append(p.sets, set.ID)
	}
	return err
}

func (p *person) settleAll(ctx context.Context) {
	for _, made := range p.plans {
		got, err := p.settle(ctx, made.id)
		if err != nil {
			p.t.Errorf("%s, which was promised: %v", made.id, err)
		}
		made.status = got.Status
	}
}

// event is what a receiver of webhooks reads of a message.
type event struct {
	Type string `json:"type"`
	Data struct {
		Plan string `json:"plan_id"`
		Set  string `json:"class_set_id"`
	} `json:"data"`
}

func readEvent(payload []byte) (e event, err error) { return e, json.Unmarshal(payload, &e) }
