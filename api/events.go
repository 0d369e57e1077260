package api

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"

	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/queue/ledger"
)

const (
	// streamLong is how long one stream of events may be; its reader comes again.
	streamLong = 10 * time.Minute
	// streamQuiet is how long a stream is silent before it says that it is there.
	streamQuiet = 15 * time.Second
	// streamSlow is how long a reader may take for one event.
	streamSlow = 10 * time.Second
)

// GetPlanEvents answers GET /v1/plans/{plan_id}/events with server-sent events
// (HTML Living Standard, 9.2) until the plan is settled.
func (p plans) GetPlanEvents(c echo.Context, id PlanID, params GetPlanEventsParams) error {
	leave, err := p.streams.take(ownerOf(c))
	if err != nil {
		return err
	}
	defer leave()
	feed, part := p.feeds.join(id)
	defer part()
	follow := params.Follow != ""
	v, err := p.jobs.View(c.Request().Context(), clientOf(c), id)
	if err != nil {
		return lacking(err, "plan")
	}
	first, err := eventOf(v, follow)
	if err != nil {
		return err
	}
	if first.last && first.id == params.LastEventID {
		return c.NoContent(http.StatusNoContent)
	}
	c.Response().Header().Set(echo.HeaderContentType, "text/event-stream")
	c.Response().WriteHeader(http.StatusOK)
	if !wantsBody(c.Request()) {
		return nil
	}
	p.stream(c, first, feed, follow)
	return nil
}

// event is one server-sent event.
type event struct {
	name string
	id   string // a sum of its data, so that equal events have equal ids
	data []byte
	last bool // nothing follows of its own accord
}

// eventOf returns how a plan stands. With follow the last event comes once nothing
// is held for the plan any more.
func eventOf(v *queue.PlanView, follow bool) (event, error) {
	shown := PlanProgress{ID: v.ID, Status: PlanStatus(v.Status), Progress: progress(&v.Plan), UpdatedAt: v.Updated}
	e := event{name: "progress", last: plan.Status(v.Status).Settled()}
	if e.last {
		e.name = "settled"
	}
	if follow && v.Acceptance != nil {
		shown.Acceptance = ptr(showAcceptance(*v.Acceptance))
		e.name, e.last = "acceptance", v.Acceptance.State != ledger.Held && v.Acceptance.State != ledger.Issued
	}
	var err error
	e.data, err = json.Marshal(shown)
	sum := sha256.Sum256(e.data)
	e.id = hex.EncodeToString(sum[:12])
	return e, err
}

// stream writes events until the plan is settled, the reader is gone, or the
// service stops. Once it has begun no error can be sent any more: a reader whose
// stream ends early connects again by itself.
func (p plans) stream(c echo.Context, now event, from *feed, follow bool) {
	defer http.NewResponseController(c.Response()).SetWriteDeadline(time.Time{}) // the connection goes on
	end := time.After(streamLong)
	seen := from.readings() // those up to this may be older than now
	for {
		if err := write(c, now.text()); err != nil || now.last {
			return
		}
		next, err := p.nextEvent(c, now, from, seen, follow, end)
		if err != nil {
			return
		}
		now = next
	}
}

// errStreamEnds says that nothing follows in this stream.
var errStreamEnds = errors.New("api: the stream ends")

// nextEvent waits for an event that is another than now. A reading up to the number
// seen may be older than what the stream has told; where it differs the plan is read
// again, and nothing is told twice or backwards.
func (p plans) nextEvent(c echo.Context, now event, from *feed, seen int, follow bool, end <-chan time.Time) (event, error) {
	for {
		last, changed := from.latest()
		if last.number > seen {
			if next := last.event(follow); last.err != nil || next.id != now.id {
				return next, last.err
			}
		} else if last.number > 0 && last.event(follow).id != now.id {
			from.reread()
		}
		if err := p.quiet(c, changed, end); err != nil {
			return event{}, err
		}
	}
}

// quiet waits until changed is closed, and tells the reader meanwhile that the
// stream is there.
func (p plans) quiet(c echo.Context, changed <-chan struct{}, end <-chan time.Time) error {
	for {
		select {
		case <-changed:
			return nil
		case <-time.After(streamQuiet):
			if err := write(c, ": still here\n\n"); err != nil {
				return err
			}
		case <-end:
			return errStreamEnds
		case <-p.closing.Done():
			return errStreamEnds
		case <-c.Request().Context().Done():
			return errStreamEnds
		}
	}
}

func (e event) text() string {
	return fmt.Sprintf("event: %s\nid: %s\ndata: %s\n\n", e.name, e.id, e.data)
}

// write sends text at once. The stream is longer than other answers may be, so
// each event has a deadline of its own.
func write(c echo.Context, text string) error {
	control := http.NewResponseController(c.Response())
	if err := control.SetWriteDeadline(time.Now().Add(streamSlow)); err != nil {
		return err
	}
	if _, err := c.Response().Write([]byte(text)); err != nil {
		return err
	}
	return control.Flush()
}
