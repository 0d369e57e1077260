package api

import (
	"encoding/csv"
	"math"
	"strconv"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/jobs/queue/ledger"
	"knifedesk/jobs/stores"
	"knifedesk/jobs/workshop"
)

// posted notes a posting with the request's key.
func posted(c echo.Context) ledger.Posted {
	return func(tx db.Tx, id uuid.UUID) error { return noteMade(c, tx, ledgerPath+id.String()) }
}

// ReportOutcome answers POST /v1/outcomes.
func (s storeroom) ReportOutcome(c echo.Context, _ ReportOutcomeParams) error {
	var body Outcome
	if err := decode(c, &body); err != nil {
		return err
	}
	ctx := c.Request().Context()
	var id uuid.UUID
	var err error
	if body.Step == OutcomeStepIssued {
		if len(body.Lots)+len(body.Offcuts)+len(body.SpoiledPieces) > 0 || body.CutterMin+body.BenchMin > 0 {
			return unprocessable("step", "invalid_body", "What became of the stock is not known when it is handed out.", "Report it with step done.")
		}
		id, err = s.book.Issue(ctx, clientOf(c), body.PlanID, body.ReportedBy, body.Remark, posted(c))
	} else {
		id, err = s.book.Settle(ctx, clientOf(c), readOutcome(body), posted(c))
	}
	if err != nil {
		return lacking(err, "plan")
	}
	return s.sendPosted(c, id)
}

func readOutcome(o Outcome) ledger.Outcome {
	seconds := func(min float64) int64 { return int64(math.Round(60 * min)) }
	return ledger.Outcome{
		Plan: o.PlanID, CutterS: seconds(o.CutterMin), BenchS: seconds(o.BenchMin), ReportedBy: o.ReportedBy, Remark: o.Remark,
		Results: each(o.Lots, func(l LotResult) stores.Result {
			return stores.Result{Lot: l.Lot, Used: l.Used, Spoiled: l.Spoiled, Left: l.Left}
		}),
		Offcuts: each(o.Offcuts, func(m OffcutMade) ledger.Piece {
			return ledger.Piece{Lot: m.Lot, WidthMM: m.WidthMM, LengthMM: m.LengthMM}
		}),
		Pieces: each(o.SpoiledPieces, readSpoiled),
	}
}

func readSpoiled(p SpoiledPiece) db.SpoiledPiece {
	return db.SpoiledPiece{Copy: p.Copy, Piece: p.Piece, Reason: p.Reason}
}

// ReversePosting answers POST /v1/ledger/{posting_id}/reversal.
func (s storeroom) ReversePosting(c echo.Context, id PostingID, _ ReversePostingParams) error {
	var body Reversal
	if err := decode(c, &body); err != nil {
		return err
	}
	back, err := s.book.Reverse(c.Request().Context(), id, body.ReportedBy, body.Remark, posted(c))
	if err != nil {
		return lacking(err, "posting")
	}
	return s.sendPosted(c, back)
}

// ListOffcuts answers GET /v1/offcuts.
func (s storeroom) ListOffcuts(c echo.Context, params ListOffcutsParams) error {
	found, err := s.book.Offcuts(c.Request().Context(), ledger.OffcutFilter{
		Stock: params.StockID, Family: workshop.Family(params.Family), WidthMM: params.WidthMM, LengthMM: params.LengthMM,
	})
	if err != nil {
		return err
	}
	return sendPage(c, "offcuts", found, turn{params.Limit, params.Cursor}, func(o ledger.Offcut) string { return o.Code }, showOffcut)
}

// PutOffcutAside answers POST /v1/offcuts.
func (s storeroom) PutOffcutAside(c echo.Context, _ PutOffcutAsideParams) error {
	var body NewOffcut
	if err := decode(c, &body); err != nil {
		return err
	}
	id, err := s.book.PutAside(c.Request().Context(), body.FromStockID, body.WidthMM, body.LengthMM, body.ReportedBy, body.Remark, posted(c))
	if err != nil {
		return err
	}
	return s.sendPosted(c, id)
}

// GetStoresReport answers GET /v1/reports/{report}.
func (s storeroom) GetStoresReport(c echo.Context, report string, params GetStoresReportParams) error {
	rows, balanced, err := s.book.Report(c.Request().Context(), ledger.ReportFilter{
		From: params.From.Time, To: params.To.Time, By: ledger.Period(params.By), Stock: params.StockID, CostCode: params.CostCode,
	})
	if err != nil {
		return err
	}
	shown := each(rows, showStoresRow)
	if strings.HasSuffix(report, ".json") {
		return sendJSON(c, StoresReport{Balanced: balanced, Rows: shown})
	}
	out := newContent("text/csv; charset=utf-8", []byte(csvOf(shown)))
	out.file = "stores.csv"
	return send(c, out)
}

// cell keeps a text from being taken for a formula by a spreadsheet, with an
// apostrophe before it.
func cell(text string) string {
	if strings.IndexAny(text, "=+-@\t\r") == 0 {
		return "'" + text
	}
	return text
}

// csvOf writes a report as a table (RFC 4180).
func csvOf(rows []StoresRow) string {
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	table := [][]string{{"period", "stock_id", "family", "cost_code", "kind", "unit", "received", "quoted", "used", "spoiled", "returned", "offcuts", "plans", "cutter_min", "bench_min", "price_minor"}}
	whole := func(v int64) string { return strconv.FormatInt(v, 10) }
	decimal := func(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) }
	for _, r := range rows {
		table = append(table, []string{
			r.Period, r.StockID, r.Family, cell(r.CostCode), string(r.Kind), string(r.Unit), whole(r.Received), whole(r.Quoted), whole(r.Used), whole(r.Spoiled),
			whole(r.Returned), whole(r.Offcuts), whole(r.Plans), decimal(r.CutterMin), decimal(r.BenchMin), whole(r.PriceMinor),
		})
	}
	_ = w.WriteAll(table) // memory takes all
	return b.String()
}
