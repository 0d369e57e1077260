package api

import (
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/jobs/class"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
)

// ChangeClassSet answers PATCH /v1/class-sets/{class_set_id}.
func (s classSets) ChangeClassSet(c echo.Context, id ClassSetID) error {
	var body ClassSetChange
	if err := decode(c, &body); err != nil {
		return err
	}
	roster, err := readRoster(body.Roster)
	if err != nil {
		return err
	}
	err = s.orders.jobs.ChangeClassSet(c.Request().Context(), clientOf(c), id, roster, func(set *db.ClassSet) error {
		if body.Deadline != nil {
			set.Deadline = body.Deadline
		}
		if err := changeTerms(set, body); err != nil {
			return err
		}
		switch {
		case body.Closed == nil:
		case !*body.Closed:
			set.Closed = nil
		case set.Closed == nil:
			now := time.Now()
			set.Closed = &now
		}
		return nil
	})
	if err != nil {
		return lacking(err, "class set")
	}
	return s.answer(c, http.StatusOK, id, 0)
}

// changeTerms takes over what is said anew of the session and the spares.
func changeTerms(set *db.ClassSet, body ClassSetChange) error {
	terms, err := termsOf(*set)
	if err != nil {
		return err
	}
	if body.Session != nil {
		terms.Session = ptr(readSession(*body.Session))
	}
	if body.Spares != nil {
		terms.Spares = class.Spares{Percent: body.Spares.Percent, LeastSheets: body.Spares.LeastSheets}
	}
	set.Terms, err = json.Marshal(terms)
	return err
}

// DropClassMember answers DELETE /v1/class-sets/{class_set_id}/members/{reference}.
func (s classSets) DropClassMember(c echo.Context, id ClassSetID, reference Reference) error {
	if err := s.orders.jobs.DropMember(c.Request().Context(), clientOf(c), id, plan.Member(reference)); err != nil {
		return lacking(fromClass(err), "class set")
	}
	return c.NoContent(http.StatusNoContent)
}

// EraseClassSet answers DELETE /v1/class-sets/{class_set_id}.
func (s classSets) EraseClassSet(c echo.Context, id ClassSetID) error {
	if err := s.orders.jobs.EraseClassSet(c.Request().Context(), clientOf(c), id); err != nil {
		return lacking(err, "class set")
	}
	return c.NoContent(http.StatusNoContent)
}

// fromClass words what a class set refuses.
func fromClass(err error) error {
	var of *queue.MemberError
	switch {
	case errors.As(err, &of) && errors.Is(err, db.ErrNotFound):
		return lackingField("members."+shown(of.Reference)+".drawing_id", "drawing")
	case errors.Is(err, queue.ErrNoMember):
		return notFound("member")
	case errors.Is(err, queue.ErrShut):
		return &failure{
			status: http.StatusConflict, code: "class_set_closed", detail: "The set takes no more drawings: it was closed, or its deadline has passed.",
			change: "Ask who teaches the class; they can open it again.",
		}
	case errors.Is(err, queue.ErrNoLoad):
		return notFound("load")
	case errors.Is(err, queue.ErrOtherLoad):
		return errChangedSince
	case errors.Is(err, queue.ErrUnsettled):
		return &failure{
			status: http.StatusConflict, code: "class_set_unsettled", retry: time.Second, detail: "The set is still worked out, so its loads may change.",
			change: "Wait until it is settled, then hand the load out.",
		}
	case errors.Is(err, queue.ErrNotIssued):
		return &failure{status: http.StatusConflict, code: "not_issued", detail: "The load was not handed out.", change: "Hand it out first."}
	case errors.Is(err, queue.ErrSetFull):
		return unprocessable("members", "class_set_full", fmt.Sprintf("The set would have more than %d members.", class.MostMembers), "Begin another set for the rest.")
	}
	return err
}
