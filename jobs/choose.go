package jobs

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"knifedesk/jobs/layout"
	"knifedesk/jobs/passes"
	"knifedesk/jobs/plan"
	"knifedesk/jobs/read"
	"knifedesk/jobs/size"
	"knifedesk/jobs/testcut"
	"knifedesk/jobs/trial"
	"knifedesk/jobs/weeding"
	"knifedesk/jobs/workshop"
)

// maxCopies bounds the copies of one plan.
const maxCopies = 10000

// Choose resolves choices against the workshop's data into a request that
// stands on its own. It fails with a *plan.ChoiceError.
func (l *List) Choose(w workshop.Data, c plan.Choices) (*plan.Request, error) {
	if err := checkKept(w); err != nil {
		return nil, err
	}
	layering, c, err := chooseLayering(w, c)
	if err != nil {
		return nil, err
	}
	stock, ok := w.Stock(c.Stock)
	if !ok {
		return nil, unknown("stock", c.Stock, ids(w.Stocks, func(s workshop.Stock) string { return s.ID }))
	}
	stock, ok = stock.HeldBy(c.Options.Hold)
	if !ok {
		return nil, &plan.ChoiceError{Field: "options.hold", Reason: "The stock cannot be held so.", Known: stock.KnownHolds()}
	}
	machine, err := chooseMachine(w, c.Machine, stock)
	if err != nil {
		return nil, err
	}
	machine = machine.With(w.Blades, stock.Work())
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
		return nil, &plan.ChoiceError{Field: "copies", Reason: fmt.Sprintf("The copies must be from 1 to %d.", maxCopies)}
	}
	if !c.Options.Nesting.Known() {
		return nil, unknown("options.nesting", string(c.Options.Nesting), ids(layout.Nestings(), func(n layout.Nesting) string { return string(n) }))
	}
	if err := l.checkMends(c.Options.MendsOff); err != nil {
		return nil, err
	}
	r := &plan.Request{
		Purpose: purpose, Stock: stock, Others: othersOf(w, stock), Machine: machine, Convention: convention, Prices: prices,
		Settings: w.Settings, Sheets: w.Sheets, Size: c.Size, Copies: copies, Mirror: c.Mirror,
		Options: c.Options, Replies: c.Replies, Turned: c.Turned, Layering: layering,
	}
	if layering != nil {
		layering.Limits = workshop.Limits{CounterMM: stock.Limits.CounterMM, CounterMM2: stock.Limits.CounterMM2}
	}
	if err := checkSize(r); err != nil {
		return nil, err
	}
	Stand(r, nil, "")
	return r, nil
}

// Stand notes in a request how the settings stand that it may run, and what lengths
// come out as, by the test cuts of
// its stock on its machine, oldest first, and the day of the request.
func Stand(r *plan.Request, cut []trial.Kept, day string) {
	r.Lengths = trial.MarksOf(cut, r.Stock.Hold)
	r.Standings = testcut.Standings(passes.Request{Stock: r.Stock, Machine: r.Machine, Settings: r.Settings}, cut, day)
}

// checkKept holds that the workshop keeps what every plan needs one of. It lacks
// all of it before somebody has set it up.
func checkKept(w workshop.Data) error {
	for _, kept := range []struct {
		field, thing string
		n            int
	}{
		{"stock", "stock", len(w.Stocks)}, {"machine", "machine", len(w.Machines)},
		{"convention", "convention", len(w.Conventions)}, {"price_list", "price list", len(w.PriceLists)},
	} {
		if kept.n == 0 {
			return &plan.ChoiceError{
				Field: kept.field, Reason: "The workshop lists no " + kept.thing + " yet.",
				Change: "An empty workshop is set up by the command knifedesk init; otherwise add a " + kept.thing + ".",
			}
		}
	}
	return nil
}

// chooseMachine takes the named machine, or of those that lack least for the
// stock the narrowest; where all are too narrow, the widest.
func chooseMachine(w workshop.Data, id string, s workshop.Stock) (workshop.Machine, error) {
	if id != "" {
		if m, ok := w.Machine(id); ok {
			return m, nil
		}
		return workshop.Machine{}, unknown("machine", id, ids(w.Machines, func(m workshop.Machine) string { return m.ID }))
	}
	narrow := func(m workshop.Machine) bool { return m.WidthMM < s.UsableWidthMM }
	return slices.MinFunc(w.Machines, func(a, b workshop.Machine) int {
		byWidth := cmp.Compare(a.WidthMM, b.WidthMM)
		if narrow(a) && narrow(b) {
			byWidth = -byWidth
		}
		return cmp.Or(cmp.Compare(lacks(w, a, s), lacks(w, b, s)), byWidth)
	}), nil
}

// lacks counts what a machine lacks to cut a stock: the width, the thickness, a
// mat that carries it, and the force of every setting that may apply.
func lacks(w workshop.Data, m workshop.Machine, s workshop.Stock) int {
	carries := func(mat workshop.MatSize) bool {
		return mat.WidthMM >= s.UsableWidthMM && mat.LengthMM >= s.LengthMM-s.MarginMM
	}
	tooWeak := func(one workshop.Setting) bool { return passes.MayApply(one, s, m) && one.ForceGF > m.MaxForceGF }
	n := 0
	for _, lack := range []bool{
		m.WidthMM < s.UsableWidthMM,
		m.MaxCaliperUM > 0 && s.CaliperUM > m.MaxCaliperUM,
		s.Hold == workshop.Mat && !slices.ContainsFunc(m.Mats, carries),
		m.MaxForceGF > 0 && slices.ContainsFunc(w.Settings, tooWeak),
	} {
		if lack {
			n++
		}
	}
	return n
}

// othersOf returns the other stocks of the family of s, as far as the layout looks at
// them.
func othersOf(w workshop.Data, s workshop.Stock) []workshop.Stock {
	var others []workshop.Stock
	for _, one := range w.Stocks {
		if one.ID != s.ID && one.Family == s.Family {
			others = append(others, laidOn(one))
		}
	}
	return others
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
func checkSize(r *plan.Request) error {
	given := 0
	for _, set := range []bool{r.Size.Unit != "", r.Size.Scale != 0, r.Size.KnownLength != nil} {
		if set {
			given++
		}
	}
	if given > 1 {
		return &plan.ChoiceError{Field: size.Name, Reason: "Give only one of unit, scale and known length, so that they cannot disagree."}
	}
	var bad *size.RequestError
	if err := readsSize(r).Check(); errors.As(err, &bad) {
		return &plan.ChoiceError{Field: bad.Field, Reason: fmt.Sprintf("%q %s.", bad.Value, bad.Reason)}
	}
	return nil
}

// checkMends refuses a mend that no job makes: it would be ignored, and the mend
// that was meant be made.
func (l *List) checkMends(off []string) error {
	for _, id := range off {
		if known := l.Mends(); !slices.Contains(known, id) {
			return &plan.ChoiceError{Field: "options.mends_off", Reason: "There is no mend " + id + ".", Known: known}
		}
	}
	return nil
}

func unknown(field, id string, known []string) error {
	if id == "" {
		return &plan.ChoiceError{Field: field, Reason: "This is needed.", Known: known}
	}
	return &plan.ChoiceError{Field: field, Reason: "There is none of that name.", Known: known}
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

// CheckPage refuses a page of a file that has none, as a *plan.ChoiceError. head is
// the beginning of the file, as for read.CheckPage.
func CheckPage(head []byte, page int) error {
	if read.CheckPage(head, page) != nil {
		return &plan.ChoiceError{Field: "options.page", Reason: "Only a PDF file has pages. Leave the page out."}
	}
	return nil
}
