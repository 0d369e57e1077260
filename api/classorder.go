package api

import (
	"encoding/json"
	"errors"
	"fmt"
	"mime"
	"path"
	"slices"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/jobs/class"
	"knifedesk/jobs/layout"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// memberOrder is a drawing for a class set: by its id, or with its bytes.
type memberOrder struct {
	reference string
	drawing   uuid.UUID
	upload
	stock      string
	copies     int
	stockField string // of the body that says the stock
	within     string // before the names of its other fields
}

func ordersOf(members []ClassMemberRequest) []memberOrder {
	return each(members, func(m ClassMemberRequest) memberOrder {
		within := "members." + shown(m.Reference) + "."
		return memberOrder{
			reference: plan.Member(m.Reference), drawing: m.DrawingID, stock: m.StockID, copies: m.Copies,
			stockField: within + "stock_id", within: within,
		}
	})
}

// find returns a set that the caller may see, and its terms.
func (s classSets) find(c echo.Context, id ClassSetID) (db.ClassSet, *class.Terms, error) {
	set, err := s.orders.store.ClassSet(c.Request().Context(), clientOf(c), id)
	if err != nil {
		return set, nil, lacking(err, "class set")
	}
	terms, err := termsOf(set)
	return set, terms, err
}

// termsOf reads the terms of a set.
func termsOf(set db.ClassSet) (*class.Terms, error) {
	var t class.Terms
	if err := json.Unmarshal(set.Terms, &t); err != nil {
		return nil, fmt.Errorf("api: the terms of class set %s: %w", set.ID, err)
	}
	return &t, nil
}

// sent returns the members that a body names or carries.
func (s classSets) sent(c echo.Context) ([]memberOrder, error) {
	kind, _, _ := mime.ParseMediaType(c.Request().Header.Get(echo.HeaderContentType))
	switch kind {
	case echo.MIMEApplicationJSON:
		var body ClassMembersRequest
		if err := decode(c, &body); err != nil {
			return nil, err
		}
		return ordersOf(body.Members), nil
	case echo.MIMEMultipartForm:
		return membersFromForm(c)
	}
	return nil, echo.ErrUnsupportedMediaType
}

// membersFromForm reads a form with drawings. Where it says no reference each file
// is called by its name without the ending.
func membersFromForm(c echo.Context) ([]memberOrder, error) {
	f, err := readFormOf(c, class.MostMembers, "reference", "stock", "copies")
	if err != nil {
		return nil, err
	}
	reference, copies := f.short("reference", 200), f.whole("copies")
	if reference != "" && len(f.more) > 0 {
		f.fail("reference", "the name of one drawing; of several each is called by its file's name")
	}
	if f.err != nil {
		return nil, f.err
	}
	files := append([]upload{{f.name, f.file}}, f.more...)
	all := make([]memberOrder, len(files))
	for i, one := range files {
		name := plan.Member(firstOf(reference, strings.TrimSuffix(path.Base(one.name), path.Ext(one.name))))
		if name == "" {
			return nil, unprocessable("reference", "invalid_field", "A drawing has no reference: its file's name is empty.", "Give the file a name, or send it alone with a reference.")
		}
		all[i] = memberOrder{reference: name, upload: one, stock: f.text("stock"), copies: copies, stockField: "stock"}
	}
	return all, nil
}

// ordered makes of each member the request for its plan.
func (s classSets) ordered(c echo.Context, terms *class.Terms, members []memberOrder) ([]queue.SubmitParams, error) {
	data, err := s.orders.kept.Data(c.Request().Context())
	if err != nil {
		return nil, err
	}
	for i, stock := range terms.Stocks { // also of a set without members yet
		if _, err := s.choose(c, data, terms, memberOrder{stock: stock}); err != nil {
			return nil, fieldOf(err, fmt.Sprintf("terms.stock_ids.%d", i), "terms.")
		}
	}
	all, seen := make([]queue.SubmitParams, len(members)), map[string]bool{}
	for i, m := range members {
		switch {
		case m.reference == "":
			return nil, unprocessable("reference", "invalid_field", "A drawing has no reference.", "Give each a name; a file sent in a form is called by its own name without the ending.")
		case seen[m.reference]:
			return nil, unprocessable("reference", "repeated_reference", "Two drawings have the reference "+shown(m.reference)+".", "Give each its own, or send the one that is meant.")
		}
		seen[m.reference] = true
		request, err := s.choose(c, data, terms, m)
		if err != nil {
			return nil, fieldOf(err, m.stockField, m.within)
		}
		all[i] = queue.SubmitParams{Drawing: m.drawing, Name: m.name, File: m.file, Request: *request, Queue: db.Batch, ClientReference: m.reference}
	}
	return all, nil
}

// choose resolves what a member chooses by the terms of its set, and by what the key
// brings where these say nothing.
func (s classSets) choose(c echo.Context, data workshop.Data, terms *class.Terms, m memberOrder) (*plan.Request, error) {
	choices, err := terms.Choices(m.stock, m.copies)
	if err != nil {
		return nil, err
	}
	return s.orders.list.Choose(data, withDefaults(choices, callerOf(c).defaults))
}

// fieldOf names the field of the body in which a choice that cannot be followed was
// made.
func fieldOf(err error, stock, within string) error {
	var choice *plan.ChoiceError
	if !errors.As(err, &choice) {
		return err
	}
	told := *choice
	switch told.Field {
	case "stock":
		told.Field = stock
	case "convention":
		told.Field = within + "convention_id"
	default:
		told.Field = within + told.Field
	}
	return &told
}

func readTerms(r ClassSetRequest) *class.Terms {
	t, spares := r.Terms, class.DefaultSpares()
	if r.Spares != nil {
		spares = class.Spares{Percent: r.Spares.Percent, LeastSheets: r.Spares.LeastSheets}
	}
	return &class.Terms{
		Stocks: t.StockIds, Purpose: weeding.Purpose(t.Purpose), Convention: t.ConventionID, Frame: t.Frame, Novice: t.Novice, Mirror: t.Mirror, Nesting: layout.Nesting(t.Nesting),
		Session: maybe(r.Session, readSession), Spares: spares,
	}
}

// readRoster returns the references of a roster once each, in order; nil where none
// is given.
func readRoster(given []string) ([]string, error) {
	if given == nil {
		return nil, nil
	}
	roster := each(given, plan.Member)
	slices.Sort(roster)
	if roster = slices.Compact(roster); len(roster) > 0 && roster[0] == "" {
		return nil, unprocessable("roster", "invalid_body", "A reference of the roster is empty.", "Leave it out.")
	}
	return roster, nil
}
