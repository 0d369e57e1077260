package queue_test

import (
	"net/http"
	"net/http/httptest"
	"sync/atomic"
	"testing"
	"time"

	"knifedesk/db"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/queue/webhook"

	"github.com/google/uuid"
)

// telling is a queue that delivers with long pauses, on a store where one delivery
// waits for a receiver.
type telling struct {
	store    *db.DB
	q        *queue.Queue
	hook     db.Webhook
	delivery uuid.UUID
}

func newTelling(t *testing.T, answer http.HandlerFunc) telling {
	t.Helper()
	receiver := httptest.NewServer(answer)
	t.Cleanup(receiver.Close)
	cfg := quick()
	cfg.Webhooks = webhook.Config{Private: true}
	cfg.TryAgain = []time.Duration{10 * time.Millisecond, time.Hour}
	q, store := start(t, &fakes{}, cfg)
	p := submit(t, q, "ann", "plain", request(1))
	hook, err := store.AddWebhook(t.Context(), db.Webhook{URL: receiver.URL, Secret: webhook.NewSecret()})
	if err != nil {
		t.Fatal(err)
	}
	told, err := store.AddDeliveries(t.Context(), p.ID, "ann", "plan.ready", "{}")
	if err != nil || len(told) != 1 {
		t.Fatal(told, err)
	}
	return telling{store, q, hook, told[0]}
}

// alter changes the job of the delivery as it is inserted.
func (c telling) alter(t *testing.T, change string) {
	t.Helper()
	_, err := c.store.Pool.Exec(t.Context(), `
		create function alter_job() returns trigger language plpgsql as $$ begin `+change+` return new; end $$;
		create trigger alter_job before insert on river_job for each row execute function alter_job()`)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := c.q.Resend(t.Context(), c.hook.ID, c.delivery); err != nil {
		t.Fatal(err)
	}
}

func (c telling) delivered(t *testing.T) {
	t.Helper()
	await(t, "the delivery", func() bool {
		d, err := c.store.Delivery(t.Context(), c.delivery)
		return err == nil && d.State == queue.DeliveryDelivered
	})
}

// Outages of the database on our side are none of the receiver's refusals: what it
// refuses once comes again after the first pause, whatever went wrong before.
func TestOutagesDoNotLengthenThePause(t *testing.T) {
	var asked atomic.Int64
	c := newTelling(t, func(w http.ResponseWriter, _ *http.Request) {
		if asked.Add(1) == 1 {
			w.WriteHeader(http.StatusServiceUnavailable)
		}
	})
	c.alter(t, `new.errors := array['{"attempt": 1, "error": "an outage"}', '{"attempt": 2, "error": "an outage"}']::jsonb[];`)
	c.delivered(t)
}

// A job that the database gave to a worker which never heard of it, as the
// connection broke at that moment, is not left to a worker that lives.
func TestJobOfAnAnswerThatNeverCameIsReturned(t *testing.T) {
	c := newTelling(t, func(http.ResponseWriter, *http.Request) {})
	c.alter(t, `new.state := 'running'; new.attempt := 1; new.attempted_at := now(); new.attempted_by := array(select id from workers limit 1);`)
	c.delivered(t)
}

// A job that takes longer than a lease is not given to another while it runs.
func TestLongDeliveryIsSentOnce(t *testing.T) {
	var asked atomic.Int64
	c := newTelling(t, func(http.ResponseWriter, *http.Request) {
		asked.Add(1)
		time.Sleep(2500 * time.Millisecond)
	})
	c.alter(t, "")
	c.delivered(t)
	if n := asked.Load(); n != 1 {
		t.Errorf("sent %d times", n)
	}
}
