package api

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"knifedesk/geometry/figure"
	"knifedesk/jobs/class"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/view"
)

// PutClassLoad answers PUT /v1/class-sets/{class_set_id}/loads/{load}.
func (s classSets) PutClassLoad(c echo.Context, id ClassSetID, load LoadNumber, _ PutClassLoadParams) error {
	var body ClassLoadStep
	if err := decode(c, &body); err != nil {
		return err
	}
	seen, err := s.seenLoad(c, id, load)
	if err != nil {
		return err
	}
	step := queue.LoadStep{Number: load, Cut: body.State == ClassLoadStepStateCut, Done: body.State == ClassLoadStepStateDone, Seen: seen}
	if err := s.orders.jobs.IssueLoad(c.Request().Context(), clientOf(c), id, step); err != nil {
		return lacking(fromClass(err), "class set")
	}
	if textWanted(c) {
		return s.answer(c, http.StatusOK, id, 0)
	}
	d, err := s.described(c, id)
	if err != nil {
		return err
	}
	c.Response().Header().Set("Vary", "Accept")
	return sendPut(c, d.ClassSet, nil)
}

// seenLoad holds the set against If-Match and If-None-Match and returns what has the
// number then, so that nobody hands out a load other than the one they saw. It is nil
// where the caller has set no condition, or no load has that number.
func (s classSets) seenLoad(c echo.Context, id ClassSetID, load LoadNumber) (*queue.ClassLoad, error) {
	if h := c.Request().Header; h.Get("If-Match") == "" && h.Get("If-None-Match") == "" {
		return nil, nil
	}
	v, err := s.orders.jobs.ClassSet(c.Request().Context(), clientOf(c), id) // before what is matched: a change in between is refused
	if err != nil {
		return nil, lacking(err, "class set")
	}
	d, err := s.described(c, id)
	if err != nil {
		return nil, err
	}
	if err := matches(c, d.ClassSet); err != nil {
		return nil, err
	}
	if at := slices.IndexFunc(v.Loads, func(l queue.ClassLoad) bool { return l.Number == load }); at >= 0 {
		return &v.Loads[at], nil
	}
	return nil, nil
}

// GetClassLoadFile answers GET /v1/class-sets/{class_set_id}/loads/{load}/{file}.
func (s classSets) GetClassLoadFile(c echo.Context, id ClassSetID, load LoadNumber, file string) error {
	v, err := s.orders.jobs.ClassSet(c.Request().Context(), clientOf(c), id)
	if err != nil {
		return lacking(err, "class set")
	}
	at := slices.IndexFunc(v.Loads, func(l queue.ClassLoad) bool { return l.Number == load })
	if at < 0 || len(v.Loads[at].Group.Keys) == 0 { // or somebody who lies on it was erased
		return notFound("load")
	}
	l := v.Loads[at]
	about := view.About{
		Plan: id.String(), Reference: v.ClientReference, Link: here(c) + classPath + id.String(), Made: v.Created, Request: &plan.Request{}, Load: load,
	}
	if err := json.Unmarshal(l.Group.Request, about.Request); err != nil {
		return fmt.Errorf("api: the request of a group: %w", err)
	}
	key := cacheKey(append(slices.Clone(l.Group.Keys), "load", strconv.Itoa(load), strconv.Itoa(l.Load.Number), file, about.Plan, about.Reference, about.Link)...)
	return s.orders.sendMade(c, key, func(ctx context.Context) (content, error) {
		all, err := s.orders.jobs.Shared(ctx, l.Group.Keys)
		if err != nil {
			return content{}, err
		}
		out, err := s.loadFile(ctx, s.orders.list.Shown(all), &l.Load, file, about)
		if _, rest, ok := strings.Cut(out.file, "_"); ok { // it is called by its number in the set
			out.file = fmt.Sprintf("load-%d_%s", load, rest)
		}
		return out, err
	})
}

// loadFile makes a picture, the worksheet or a file of one load of a group.
func (s classSets) loadFile(ctx context.Context, r *view.Results, of *class.GroupLoad, file string, about view.About) (content, error) {
	name, ending, _ := strings.Cut(file, ".")
	load := of.Number
	draw := map[string]func(context.Context, *view.Results, int) (*figure.Picture, error){
		"layout": view.DrawLayout, "weeding": view.DrawWeeding, "passes": view.DrawPasses,
	}[name]
	if draw != nil && ending != "txt" {
		return s.orders.drawn(ctx, file, func(ctx context.Context) (*figure.Picture, error) { return draw(ctx, r, load) })
	}
	if name == "worksheet" {
		var b bytes.Buffer
		err := s.orders.turns.inTurn(ctx, func() error { return r.Load(load, of.Time).Worksheet(ctx, &b, about) })
		return newContent("application/pdf", b.Bytes()), err
	}
	return parts{s.orders.tools}.writeFile(ctx, r, cutFile{load: load, pass: view.AllPasses, ending: ending})
}
