package api

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"net/http"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"knifedesk/jobs/plan"
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
	changed, stop := p.jobs.Watch(id)
	defer stop()
	first, err := p.eventOf(c, id, params.Follow != "")
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
	p.stream(c, id, first, changed, params.Follow != "")
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
func (p plans) eventOf(c echo.Context, id uuid.UUID, follow bool) (event, error) {
	ctx := c.Request().Context()
	v, err := p.jobs.View(ctx, clientOf(c), id)
	if err != nil {
		return event{}, lacking(err, "plan")
	}
	shown := PlanProgress{ID: id, Status: PlanStatus(v.Status), Progress: progress(&v.Plan), UpdatedAt: v.Updated}
	e := event{name: "progress", last: plan.Status(v.Status).Settled()}
	if e.last {
		e.name = "settled"
	}
	if follow && v.Acceptance != nil {
		shown.Acceptance = ptr(showAcceptance(*v.Acceptance))
		e.name, e.last = "acceptance", v.Acceptance.State != ledger.Held && v.Acceptance.State != ledger.Issued
	}
	e.data, err = json.Marshal(shown)
	sum := sha256.Sum256(e.data)
	e.id = hex.EncodeToString(sum[:12])
	return e, err
}

// stream writes events until the plan is settled, the reader is gone, or the
// service stops. Once it has begun no error can be sent any more: a reader whose
// stream ends early connects again by itself.
func (p plans) stream(c echo.Context, id uuid.UUID, now event, changed <-chan struct{}, follow bool) {
	defer http.NewResponseController(c.Response()).SetWriteDeadline(time.Time{}) // the connection goes on
	end := time.After(streamLong)
	for {
		if err := write(c, now.text()); err != nil || now.last {
			return
		}
		next := now
		for next.id == now.id {
			select {
			case <-changed:
			case <-time.After(streamQuiet):
				if err := write(c, ": still here\n\n"); err != nil {
					return
				}
			case <-end:
				return
			case <-p.closing.Done():
				return
			case <-c.Request().Context().Done():
				return
			}
			var err error
			if next, err = p.eventOf(c, id, follow); err != nil {
				p.log.WarnContext(c.Request().Context(), "event stream ended", "plan", id, "error", err)
				return
			}
		}
		now = next
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
