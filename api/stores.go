package api

import (
	"errors"
	"net/http"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/jobs/queue/ledger"
	"knifedesk/jobs/stores"
)

const ledgerPath = "/v1/ledger/"

// ListLevels answers GET /v1/levels.
func (s storeroom) ListLevels(c echo.Context, params ListLevelsParams) error {
	levels, err := s.book.Levels(c.Request().Context())
	if err != nil {
		return err
	}
	return sendPage(c, "levels", levels, turn{params.Limit, params.Cursor}, func(l ledger.Level) string { return l.Item }, showLevel)
}

// GetLevel answers GET /v1/levels/{item_id}.
func (s storeroom) GetLevel(c echo.Context, item ItemID) error {
	level, err := s.book.Level(c.Request().Context(), item)
	if errors.Is(err, ledger.ErrNoItem) {
		return notFound("item")
	}
	if err != nil {
		return err
	}
	return sendJSON(c, showLevel(level))
}

// PutLevel answers PUT /v1/levels/{item_id}.
func (s storeroom) PutLevel(c echo.Context, item ItemID, _ PutLevelParams) error {
	var body ReorderPoint
	if err := decode(c, &body); err != nil {
		return err
	}
	level, err := s.book.SetReorderPoint(c.Request().Context(), item, body.ReorderAt, func(now ledger.Level) error { return matches(c, showLevel(now)) })
	if errors.Is(err, ledger.ErrNoItem) {
		return notFound("item")
	}
	return sendPut(c, showLevel(level), err)
}

// Receive answers POST /v1/receipts.
func (s storeroom) Receive(c echo.Context, _ ReceiveParams) error {
	var body Receipt
	if err := decode(c, &body); err != nil {
		return err
	}
	if tape := strings.HasPrefix(body.Item, stores.TapeItem("")); tape != (body.WidthMM > 0) {
		return unprocessable("width_mm", "invalid_body", "The width is that of transfer tape, which has to have one; a stock has its own.", "Give it with tape, and leave it out otherwise.")
	}
	id, err := s.book.Receive(c.Request().Context(), ledger.Receipt{
		Item: body.Item, Amount: body.Amount, Batch: body.Batch, WidthMM: body.WidthMM, ReportedBy: body.ReportedBy, Remark: body.Remark,
	}, func(tx db.Tx, id uuid.UUID) error { return noteMade(c, tx, ledgerPath+id.String()) })
	if err != nil {
		return err
	}
	return s.sendPosted(c, id)
}

// sendPosted answers with what was posted.
func (s storeroom) sendPosted(c echo.Context, id uuid.UUID) error {
	p, err := s.book.Posting(c.Request().Context(), id)
	if err != nil {
		return lacking(err, "posting")
	}
	c.Response().Header().Set(echo.HeaderLocation, ledgerPath+id.String())
	return c.JSON(http.StatusCreated, showPosting(p))
}

// GetPosting answers GET /v1/ledger/{posting_id}.
func (s storeroom) GetPosting(c echo.Context, id PostingID) error {
	p, err := s.book.Posting(c.Request().Context(), id)
	if err != nil {
		return lacking(err, "posting")
	}
	return sendJSON(c, showPosting(p))
}

// GetStoreRules answers GET /v1/store-rules.
func (s storeroom) GetStoreRules(c echo.Context) error {
	r, err := s.book.Rules(c.Request().Context())
	if err != nil {
		return err
	}
	return sendJSON(c, showStoreRules(r))
}

// PutStoreRules answers PUT /v1/store-rules.
func (s storeroom) PutStoreRules(c echo.Context, _ PutStoreRulesParams) error {
	var body StoreRules
	if err := decode(c, &body); err != nil {
		return err
	}
	err := s.book.SetRules(c.Request().Context(), stores.Rules{
		HoldH: body.HoldH, AfterBookingH: body.AfterBookingH, WarnH: body.WarnH, LeastRollerMM: body.LeastRollerMM,
	}, func(now stores.Rules) error { return matches(c, showStoreRules(now)) })
	return sendPut(c, body, err)
}
