package plan

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"knifedesk/jobs/ask"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// Choices are what a caller says, by the IDs of the workshop's data. Empty
// ones are filled in by Choose.
type Choices struct {
	Stock      string
	Machine    string
	Convention string
	PriceList  string
	Purpose    weeding.Purpose
	Size       Size
	Copies     int
	Mirror     *bool
	Options    Options
	Replies    ask.Replies
	Turned     []int
}

// maxCopies bounds the copies of one plan.
const maxCopies = 10000

// ChoiceError says which choice cannot be followed, and what there is instead.
type ChoiceError struct {
	Field  string   // the field of the request
	Reason string   // a sentence
	Known  []string // what may be chosen, where that is a list
}

func (e *ChoiceError) Error() string {
	if len(e.Known) == 0 {
		return e.Field + ": " + e.Reason
	}
	return e.Field + ": " + e.Reason + " Known here: " + strings.Join(e.Known, ", ") + "."
}

// Choose resolves choices against the workshop's data into a request that
// stands on its own. It fails with a *ChoiceError.
func Choose(w workshop.Data, c Choices) (*Request, error) {
	stock, ok := w.Stock(c.Stock)
	if !ok {
		return nil, unknown("stock", c.Stock, ids(w.Stocks, func(s workshop.Stock) string { return s.ID }))
	}
	machine, err := chooseMachine(w, c.Machine, stock)
	if err != nil {
		return nil, err
	}
	convention, ok := w.Convention(orFirst(c.Convention, w.Conventions, func(v workshop.Convention) string { return v.ID }))
	if !ok {
		return nil, unknown("convention", c.Convention, ids(w.Conventions, func(v workshop.Convention) string { return v.ID }))
	}
	prices, ok := w.PriceList(orFirst(c.PriceList, w.PriceLists, func(v workshop.PriceList) string { return v.ID }))
	if !ok {
		return nil, unknown("price_list", c.PriceList, ids(w.PriceLists, func(v workshop.PriceList) string { return v.ID }))
	}
	purpose, err := choosePurpose(c.Purpose, stock)
	if err != nil {
		return nil, err
	}
	copies := max(c.Copies, 1)
	if c.Copies < 0 || copies > maxCopies {
		return nil, &ChoiceError{Field: "copies", Reason: fmt.Sprintf("The copies must be from 1 to %d.", maxCopies)}
	}
	if err := checkMends(c.Options.MendsOff); err != nil {
		return nil, err
	}
	r := &Request{
		Purpose: purpose, Stock: stock, Machine: machine, Convention: convention, Prices: prices,
		Settings: w.Settings, Sheets: w.Sheets, Size: c.Size, Copies: copies, Mirror: c.Mirror,
		Options: c.Options, Replies: c.Replies, Turned: c.Turned,
	}
	if err := checkSize(r); err != nil {
		return nil, err
	}
	return r, nil
}

// chooseMachine takes the named machine, or the narrowest that takes the stock.
func chooseMachine(w workshop.Data, id string, s workshop.Stock) (workshop.Machine, error) {
	if id != "" {
		if m, ok := w.Machine(id); ok {
			return m, nil
		}
		return workshop.Machine{}, unknown("machine", id, ids(w.Machines, func(m workshop.Machine) string { return m.ID }))
	}
	if len(w.Machines) == 0 {
		return workshop.Machine{}, &ChoiceError{Field: "machine", Reason: "The workshop lists no machine."}
	}
	best := w.Machines[0]
	for _, m := range w.Machines {
		fits, bestFits := m.WidthMM >= s.UsableWidthMM, best.WidthMM >= s.UsableWidthMM
		if fits && (!bestFits || m.WidthMM < best.WidthMM) || !fits && !bestFits && m.WidthMM > best.WidthMM {
			best = m
		}
	}
	return best, nil
}

// choosePurpose takes the named purpose, or what the family is bought for.
func choosePurpose(p weeding.Purpose, s workshop.Stock) (weeding.Purpose, error) {
	known := []weeding.Purpose{weeding.Pieces, weeding.Lettering, weeding.Stencil}
	switch {
	case slices.Contains(known, p):
		return p, nil
	case p != "":
		return "", unknown("purpose", string(p), []string{"pieces", "lettering", "stencil"})
	case s.Family == workshop.StencilSheet || s.Family == workshop.StencilFilm || s.Family == workshop.BlastingMask:
		return weeding.Stencil, nil
	case s.Liner:
		return weeding.Lettering, nil
	}
	return weeding.Pieces, nil
}

// checkSize holds what is said of the size against the sizes and units known.
func checkSize(r *Request) error {
	given := 0
	for _, set := range []bool{r.Size.Unit != "", r.Size.Scale != 0, r.Size.KnownLength != nil} {
		if set {
			given++
		}
	}
	if given > 1 {
		return &ChoiceError{Field: "size", Reason: "Give only one of unit, scale and known length, so that they cannot disagree."}
	}
	var bad *size.RequestError
	if err := readsSize(r).(size.Request).Check(); errors.As(err, &bad) {
		return &ChoiceError{Field: bad.Field, Reason: fmt.Sprintf("%q %s.", bad.Value, bad.Reason)}
	}
	return nil
}

func unknown(field, id string, known []string) error {
	if id == "" {
		return &ChoiceError{Field: field, Reason: "This is needed.", Known: known}
	}
	return &ChoiceError{Field: field, Reason: "There is none of that name.", Known: known}
}

func ids[T any](all []T, id func(T) string) []string {
	out := make([]string, len(all))
	for i, v := range all {
		out[i] = id(v)
	}
	return out
}

func orFirst[T any](id string, all []T, of func(T) string) string {
	if id == "" && len(all) > 0 {
		return of(all[0])
	}
	return id
}

// CheckPage refuses a page of a file that has none, as a *ChoiceError. head is
// the beginning of the file, as for read.CheckPage.
func CheckPage(head []byte, page int) error {
	if read.CheckPage(head, page) != nil {
		return &ChoiceError{Field: "options.page", Reason: "Only a PDF file has pages. Leave the page out."}
	}
	return nil
}
