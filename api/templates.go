package api

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/view"
	"knifedesk/jobs/view/starter"
	"knifedesk/jobs/workshop"
)

// usualFrameMM is how long the frame on a roll is where nobody says it.
const usualFrameMM = 500

// GetTemplate answers GET /v1/templates/{stock}.svg and .dxf.
func (s shelves) GetTemplate(c echo.Context, file string, params GetTemplateParams) error {
	at := strings.LastIndexByte(file, '.')
	id, format := file[:at], view.Format(file[at+1:])
	d, err := stocks().open(s.store.Queries).Newest(c.Request().Context(), id)
	if err != nil {
		return lacking(err, "stock")
	}
	stock := d.Doc
	convention, err := s.conventionFor(c, params.Convention)
	if err != nil {
		return err
	}
	width, length, err := frameFor(&stock, params)
	if err != nil {
		return err
	}
	f, err := starter.New(&stock, convention, width, length)
	if errors.Is(err, starter.ErrNoLayer) {
		return unprocessable("convention", "no_layer", "The convention has no layer for the frame, or none for cuts.", "Add a rule for both to the convention, or name another one.")
	}
	if err != nil {
		return err
	}
	out, err := fileOf(f, id, format)
	if err != nil {
		return err
	}
	return send(c, out)
}

// conventionFor returns the convention that was named, or else the one that a plan of
// the caller would get.
func (s shelves) conventionFor(c echo.Context, id string) (*workshop.Convention, error) {
	ctx, shelf := c.Request().Context(), queue.Conventions(s.store.Queries)
	if id = cmp.Or(id, callerOf(c).defaults.Convention); id == "" {
		all, err := shelf.All(ctx)
		if err != nil {
			return nil, err
		}
		if len(all) > 0 {
			return &all[0].Doc, nil
		}
	}
	d, err := shelf.Newest(ctx, id)
	if errors.Is(err, db.ErrNotFound) {
		return nil, lackingField("convention", "convention")
	}
	return &d.Doc, err
}

// frameFor returns how large the frame is: the sheet, or on a roll what was asked for.
func frameFor(s *workshop.Stock, p GetTemplateParams) (width, length float64, err error) {
	if s.Form != workshop.Roll {
		if p.WidthMM > 0 || p.LengthMM > 0 {
			return 0, 0, unprocessable("width_mm", "no_roll", "This stock is no roll; its frame is the sheet.", "Leave width_mm and length_mm out.")
		}
		return s.WidthMM, s.LengthMM, nil
	}
	width, length = float64(p.WidthMM), float64(p.LengthMM)
	if width == 0 {
		width = math.Floor(s.UsableWidthMM)
	}
	if length == 0 {
		length = math.Min(usualFrameMM, math.Floor(s.LengthMM))
	}
	return width, length, cmp.Or(within("width_mm", width, s.WidthMM), within("length_mm", length, s.LengthMM))
}

// within refuses a side of a frame that is longer than the roll has room for.
func within(field string, mm, has float64) error {
	if mm <= has {
		return nil
	}
	return unprocessable(field, "off_stock", "The frame is larger than the roll.", fmt.Sprintf("Write at most %g.", math.Floor(has)))
}
