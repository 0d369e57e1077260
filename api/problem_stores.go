package api

import (
	"errors"
	"net/http"

	"knifedesk/jobs/queue"
	"knifedesk/jobs/queue/ledger"
)

// fromStores words what the ledger refuses; nil for any other error.
func fromStores(err error) *failure {
	var short *ledger.Short
	if errors.As(err, &short) {
		return fromShort(short)
	}
	var refusal *ledger.Refusal
	if errors.As(err, &refusal) {
		return fromRefusal(refusal)
	}
	if errors.Is(err, queue.ErrAccepted) {
		return conflict("accepted", "The plan is accepted, so it stays as it is.", "Give the acceptance back first (DELETE …/acceptance); a plan that was cut is sent anew.")
	}
	if errors.Is(err, ledger.ErrNoItem) {
		return &failure{status: http.StatusUnprocessableEntity, code: "unknown_item", field: "item", detail: "The stores keep no such item.", change: "Use the id of a stock, or tape-low, tape-medium or tape-high."}
	}
	if errors.Is(err, ledger.ErrNoLot) {
		return &failure{status: http.StatusUnprocessableEntity, code: "unknown_lot", field: "lots", detail: "No lot has this code.", change: "Read the code off the label; /v1/levels and /v1/offcuts list them."}
	}
	return nil
}

func conflict(code, detail, change string) *failure {
	return &failure{status: http.StatusConflict, code: code, detail: detail, change: change}
}

func fromRefusal(r *ledger.Refusal) *failure {
	words := map[string][2]string{
		ledger.NotReady:     {"The plan is not ready, so it has no price that can be taken.", "Look at its status, questions and findings; accept it once it is ready."},
		ledger.QuoteExpired: {"The quote is too old to be taken.", "Send the plan again for a new price."},
		ledger.PastBooking:  {"The stock would not be held at all: the booking is over.", "Give the end of a booking that is still to come, with its offset."},
		ledger.AlreadyOut:   {"The stock for this plan was handed out.", "Report what became of it (POST /v1/outcomes)."},
		ledger.AlreadyDone:  {"It was reported already what became of this plan.", "Send the plan again; a report that was wrong is reversed."},
		ledger.NotAccepted:  {"No stock is held for this plan.", "Accept it first (POST to actions.accept of the plan)."},
		ledger.NotAdding:    {"The amounts do not add up: more came back than was handed out.", "Used, spoiled and left together are at least what was handed out; leave one of them out and it is worked out."},
		ledger.Reversed:     {"It was taken back already.", "Look at the ledger; what was reported anew is another posting."},
		ledger.NotReversing: {"It cannot be taken back: some of it has moved on, or it is no receipt, offcut or outcome.", "Take back first what came after; an acceptance is given back by DELETE …/acceptance."},
		ledger.WrongSize:    {"The offcut is larger than what it was cut from.", "Measure it in mm, first across the feed and then along it."},
	}[r.Code]
	return conflict(r.Code, words[0], words[1])
}

func fromShort(s *ledger.Short) *failure {
	f := conflict("stock_short", "There is not enough of "+s.Item+": the plan needs "+s.Kind.Text(s.Amount)+", and "+s.Kind.Text(s.By)+" are missing.",
		"Take a receipt in, ask for fewer copies, or wait until what is reserved is free again.")
	f.short = &Shortfall{Item: s.Item, Kind: LotKind(s.Kind), Unit: StoreUnit(s.Kind.Unit()), Needed: s.Amount, ShortBy: s.By}
	if s.Nearest != nil {
		f.short.NearestStockID = s.Nearest.ID
		f.change = "There is enough of " + s.Nearest.ID + " (" + s.Nearest.Name + "), of the same material: plan on it. Or take a receipt in."
	}
	return f
}
