package ledger

import "knifedesk/jobs/stores"

// Text says in a summary for a shell how an acceptance stands, a line each; empty where
// a plan was never accepted.
func (a *Acceptance) Text() string {
	if a == nil {
		return ""
	}
	const minute = "2006-01-02 15:04 UTC"
	text := "accepted   " + map[State]string{
		Held: "until " + a.HeldUntil.UTC().Format(minute), Lapsed: "no more: the stock was held until " + a.HeldUntil.UTC().Format(minute),
		Freed: "no more: the stock was given back", Issued: "the stock is handed out", Closed: "it is reported what was used",
	}[a.State] + ", at " + a.TotalText + "\n"
	for _, h := range a.Holding {
		text += "held       " + stores.Kind(h.Kind).Text(h.Reserved+h.Issued) + ", " + h.Lot
		if !h.Counted {
			text += " (not counted: nothing was ever received of it)"
		}
		text += "\n"
	}
	return text
}
