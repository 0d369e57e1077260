package api

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"math"
	"net/http"
	"strconv"
	"strings"
	"time"

	"github.com/labstack/echo/v4"
	"github.com/prometheus/client_golang/prometheus"

	"knifedesk/db"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
)

// failure is an error that a client is told about (RFC 9457). Its texts are
// ours; what lies beneath is logged and never sent.
type failure struct {
	status int
	code   string        // stable
	detail string        // a sentence for a person
	change string        // what to change
	field  string        // which field or parameter, where one is meant
	retry  time.Duration // when to come again, 0: not said
	short  *Shortfall    // of what there is not enough
}

func (f *failure) Error() string { return f.code + ": " + f.detail }

func notFound(what string) error {
	return &failure{status: http.StatusNotFound, code: "not_found", detail: "There is no such " + what + " here.", change: "Check the id; a client sees its own things only."}
}

// lackingField says which field of a request names something that is not there.
func lackingField(field, what string) error {
	f := *asFailure(notFound(what))
	f.field = field
	return &f
}

func unprocessable(field, code, detail, change string) error {
	return &failure{status: http.StatusUnprocessableEntity, code: code, detail: detail, change: change, field: field}
}

// writeProblem is echo's error handler: it answers every error as a problem.
// It counts them by code.
func writeProblem(log *slog.Logger, refused *prometheus.CounterVec) echo.HTTPErrorHandler {
	return func(err error, c echo.Context) {
		if c.Response().Committed {
			return
		}
		f := asFailure(err)
		refused.WithLabelValues(f.code).Inc()
		if f.status >= 500 {
			log.ErrorContext(c.Request().Context(), "request failed", "error", err, "path", c.Path())
		}
		p := Problem{
			Type: "/docs/codes#" + f.code, Title: http.StatusText(f.status), Status: f.status,
			Code: f.code, Detail: f.detail,
			Change: f.change, Field: f.field, Shortfall: f.short, RequestID: requestID(c),
		}
		c.Response().Header().Set(echo.HeaderContentType, "application/problem+json")
		c.Response().Header().Set(echo.HeaderCacheControl, "no-store")
		if f.retry > 0 {
			c.Response().Header().Set(echo.HeaderRetryAfter, strconv.Itoa(int(math.Ceil(f.retry.Seconds()))))
		}
		if err := c.JSON(f.status, p); err != nil {
			log.WarnContext(c.Request().Context(), "problem not sent", "error", err)
		}
	}
}

// asFailure maps any error to one that may be told.
func asFailure(err error) *failure {
	var f *failure
	if errors.As(err, &f) {
		return f
	}
	if errors.Is(err, db.ErrNotFound) {
		errors.As(notFound("thing"), &f)
		return f
	}
	if errors.Is(err, db.ErrConflict) {
		return &failure{status: http.StatusConflict, code: "changed_meanwhile", detail: "Somebody else changed this at the same time.", change: "Read it again, then make your change."}
	}
	if errors.Is(err, db.ErrInUse) {
		return &failure{status: http.StatusConflict, code: "in_use", detail: "A plan was made from this drawing, so it is kept.", change: "Erase it with its plans: add plans=true."}
	}
	if errors.Is(err, db.ErrText) {
		return &failure{status: http.StatusUnprocessableEntity, code: "invalid_text", detail: "A text holds a character that cannot be stored.", change: "Take out zero bytes and broken characters."}
	}
	var choice *plan.ChoiceError
	if errors.As(err, &choice) {
		return &failure{status: http.StatusUnprocessableEntity, code: "invalid_choice", detail: choice.Reason, change: cmp.Or(choice.Change, known(choice.Known)), field: choice.Field}
	}
	var reply *queue.ReplyError
	if errors.As(err, &reply) {
		return fromReply(reply)
	}
	if errors.Is(err, db.ErrBusy) {
		return asFailure(busy("Too many change the same thing at this moment; nothing of this request was done."))
	}
	if errors.Is(err, queue.ErrFull) {
		return asFailure(busy("Drawings that are being worked on fill the memory of the service."))
	}
	if errors.Is(err, queue.ErrState) {
		return &failure{status: http.StatusConflict, code: "wrong_status", detail: "The plan's status does not allow this.", change: "Look at the plan; a cancelled plan is submitted anew."}
	}
	if told := fromStores(err); told != nil {
		return told
	}
	if told := fromAccess(err); told != nil {
		return told
	}
	var tooLarge *http.MaxBytesError
	if errors.As(err, &tooLarge) {
		return &failure{status: http.StatusRequestEntityTooLarge, code: "too_large", detail: fmt.Sprintf("The body is larger than %d MB, the most that this service takes.", tooLarge.Limit>>20), change: "Send a smaller file; leave out images and unused layers."}
	}
	var he *echo.HTTPError
	if errors.As(err, &he) {
		return fromEcho(he)
	}
	if errors.Is(err, context.Canceled) || errors.Is(err, errBody) {
		return &failure{status: http.StatusBadRequest, code: "cut_off", detail: "The request did not come in whole.", change: "Send it again, over a steadier line."}
	}
	if db.Outage(err) {
		return unreachable()
	}
	return &failure{status: http.StatusInternalServerError, code: "internal", detail: "Something failed on our side. Nothing you sent is lost.", change: "Try again; tell the technician the request id if it stays."}
}

// unreachable says that the database does not serve now.
func unreachable() *failure {
	return &failure{
		status: http.StatusServiceUnavailable, code: "database_unreachable", retry: 5 * time.Second,
		detail: "The database does not answer. What was stored before is safe.", change: "Send it again in a moment, with the same Idempotency-Key where it had one.",
	}
}

func fromReply(e *queue.ReplyError) *failure {
	f := &failure{status: http.StatusUnprocessableEntity, code: e.Code, field: "answers." + e.Question}
	switch e.Code {
	case queue.UnknownQuestion:
		f.detail, f.change = "The plan does not ask this question.", "Use an id from the plan's questions."
	case queue.UnknownAnswer:
		f.detail, f.change = "The question does not offer this answer.", "Use an id from the question's answers."
	case queue.LengthMissing:
		f.detail, f.change = "This answer needs a length.", "Add value_mm, a positive number of mm."
	case queue.LengthNotTaken:
		f.detail, f.change = "This answer has no use for a length.", "Leave value_mm out, or choose an answer that needs one."
	case queue.ReasonMissing:
		f.detail, f.change = "This answer lets something pass and needs a reason.", "Add reason, in your own words."
	case queue.ReasonNotTaken:
		f.detail, f.change = "This answer has no use for a reason.", "Leave reason out, or choose an answer that needs one."
	}
	return f
}

func known(names []string) string {
	if len(names) == 0 {
		return "See /docs/reference for what it takes."
	}
	return "Choose one of: " + strings.Join(names, ", ") + "."
}

func fromEcho(he *echo.HTTPError) *failure {
	switch he.Code {
	case http.StatusNotFound:
		return &failure{status: he.Code, code: "no_such_path", detail: "There is nothing at this path.", change: "See /docs/reference for the paths there are."}
	case http.StatusMethodNotAllowed:
		return &failure{status: he.Code, code: "method_not_allowed", detail: "This path does not take that method.", change: "It takes: GET, HEAD."} // the pages
	}
	if he.Code < 500 {
		return &failure{status: he.Code, code: "bad_request", detail: "The request could not be understood.", change: "Compare it with /docs."}
	}
	return &failure{status: he.Code, code: "internal", detail: "Something failed on our side."}
}

func requestID(c echo.Context) string {
	return c.Response().Header().Get(echo.HeaderXRequestID)
}
