package api

import (
	"cmp"
	"context"
	"encoding/json"
	"net/http"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/jobs/plan"
)

// classSets answers what is asked of class sets.
type classSets struct{ orders plans }

const (
	classPath   = "/v1/class-sets/"
	membersPart = "/members"
)

// CreateClassSet answers POST /v1/class-sets.
func (s classSets) CreateClassSet(c echo.Context, params CreateClassSetParams) error {
	var body ClassSetRequest
	if err := decode(c, &body); err != nil {
		return err
	}
	terms, owner, ctx := readTerms(body), ownerOf(c), c.Request().Context()
	members, err := s.ordered(c, terms, ordersOf(body.Members))
	if err != nil {
		return err
	}
	roster, err := readRoster(body.Roster)
	if err != nil {
		return err
	}
	text, err := json.Marshal(terms)
	if err != nil {
		return err
	}
	wait, leave, err := s.orders.heldOpen(c, params.Prefer)
	if err != nil {
		return err
	}
	defer leave()
	entered, err := s.orders.queued.enter(ctx, owner, len(members))
	if err != nil {
		return err
	}
	defer entered()
	id, err := s.orders.jobs.AddClassSet(ctx,
		db.ClassSet{Client: owner, ClientReference: plan.Reference(body.ClientReference), Terms: text, Deadline: body.Deadline}, roster, members,
		func(tx db.Tx, id uuid.UUID) error { return noteMade(c, tx, classPath+id.String()) })
	if err != nil {
		return fromClass(err)
	}
	return s.answer(c, http.StatusCreated, id, wait)
}

// AddClassMembers answers POST /v1/class-sets/{class_set_id}/members.
func (s classSets) AddClassMembers(c echo.Context, id ClassSetID, params AddClassMembersParams) error {
	ctx := c.Request().Context()
	set, terms, err := s.find(c, id)
	if err != nil {
		return err
	}
	sent, err := s.sent(c)
	if err != nil {
		return err
	}
	members, err := s.ordered(c, terms, sent)
	if err != nil {
		return err
	}
	wait, leave, err := s.orders.heldOpen(c, params.Prefer)
	if err != nil {
		return err
	}
	defer leave()
	entered, err := s.orders.queued.enter(ctx, set.Client, len(members))
	if err != nil {
		return err
	}
	defer entered()
	err = s.orders.jobs.AddMembers(ctx, clientOf(c), id, members, func(tx db.Tx) error {
		return noteMade(c, tx, classPath+id.String()+membersPart)
	})
	if err != nil {
		return lacking(fromClass(err), "class set")
	}
	return s.answer(c, http.StatusOK, id, wait)
}

// classAgain answers as the request did that made what is at the location.
func (s classSets) classAgain(c echo.Context, location string) error {
	name, members := strings.CutSuffix(strings.TrimPrefix(location, classPath), membersPart)
	id, err := uuid.Parse(name)
	if err != nil {
		return err
	}
	wait, leave, err := s.orders.heldOpen(c, c.Request().Header.Get("Prefer"))
	if err != nil {
		return err
	}
	defer leave()
	if members {
		return s.answer(c, http.StatusOK, id, wait)
	}
	return s.answer(c, http.StatusCreated, id, wait)
}

// GetClassSet answers GET /v1/class-sets/{class_set_id}.
func (s classSets) GetClassSet(c echo.Context, id ClassSetID, params GetClassSetParams) error {
	if _, _, err := s.find(c, id); err != nil {
		return err
	}
	wait, leave, err := s.orders.heldOpen(c, params.Prefer)
	if err != nil {
		return err
	}
	defer leave()
	s.await(c, id, wait)
	d, err := s.described(c, id)
	if err != nil {
		return err
	}
	c.Response().Header().Set("Vary", "Accept")
	if textWanted(c) {
		return send(c, newContent(echo.MIMETextPlainCharsetUTF8, []byte(d.text())))
	}
	return sendJSON(c, d.ClassSet)
}

// ListClassSets answers GET /v1/class-sets.
func (s classSets) ListClassSets(c echo.Context, params ListClassSetsParams) error {
	limit := cmp.Or(params.Limit, usual)
	before, err := readBefore(params.Cursor)
	if err != nil {
		return err
	}
	rows, err := s.orders.store.ClassHeads(c.Request().Context(), listedFor(c, params.Owner), before, limit+1)
	if err != nil {
		return err
	}
	return sendNewest(c, "class_sets", rows, limit, showClassHead, func(s db.ClassHead) db.Cursor { return db.Cursor{Created: s.Created, ID: s.ID} })
}

// answer waits until a set has come to rest, at most for wait, and answers a
// request that changed it.
func (s classSets) answer(c echo.Context, status int, id uuid.UUID, wait time.Duration) error {
	s.await(c, id, wait)
	d, err := s.described(c, id)
	if err != nil {
		return err
	}
	if status == http.StatusCreated {
		c.Response().Header().Set(echo.HeaderLocation, classPath+id.String())
	}
	c.Response().Header().Set("Vary", "Accept")
	if textWanted(c) {
		return c.String(status, d.text())
	}
	return c.JSON(status, d.ClassSet)
}

// await returns when the set has come to rest, the time is over or the service
// stops.
func (s classSets) await(c echo.Context, id uuid.UUID, wait time.Duration) {
	if wait <= 0 {
		return
	}
	c.Response().Header().Set("Preference-Applied", preferenceApplied(wait))
	ctx, cancel := context.WithTimeout(c.Request().Context(), wait)
	defer cancel()
	defer context.AfterFunc(s.orders.closing, cancel)()
	if err := s.orders.jobs.WaitClassSet(ctx, id); err != nil && ctx.Err() == nil {
		s.orders.log.WarnContext(ctx, "waiting for a class set", "class_set", id, "error", err)
	}
}
