// Package stores holds the words and rules of what a workshop keeps: lots and
// their amounts, what a plan needs of them, which lot it is taken from, how
// long it is held, and what an offcut is good for. It is pure; the ledger itself
// is kept by jobs/queue/ledger.
package stores

import (
	"math"
	"strconv"
	"strings"
	"time"

	"knifedesk/jobs/layout"
	"knifedesk/jobs/workshop"
)

// Kind is what a lot is.
type Kind string

// The kinds of lots.
const (
	Sheets Kind = "sheets" // a pile of sheets
	Roll   Kind = "roll"
	Tape   Kind = "tape" // a roll of transfer tape
	Offcut Kind = "offcut"
)

// Unit is what amounts of the kind are counted in: sheets, mm or pieces.
func (k Kind) Unit() string {
	switch k {
	case Sheets:
		return "sheets"
	case Offcut:
		return "pieces"
	}
	return "mm"
}

// Text writes an amount for people: "350 mm of roll".
func (k Kind) Text(amount int64) string {
	words := map[Kind][2]string{
		Sheets: {" sheet", " sheets"}, Roll: {" mm of roll", " mm of roll"}, Tape: {" mm of tape", " mm of tape"}, Offcut: {" offcut", " offcuts"},
	}[k]
	if amount == 1 {
		return "1" + words[0]
	}
	return strconv.FormatInt(amount, 10) + words[1]
}

// KindOf returns the kind of lot in which a form of stock is kept.
func KindOf(f workshop.Form) Kind {
	return map[workshop.Form]Kind{workshop.Sheet: Sheets, workshop.Roll: Roll, workshop.Offcut: Offcut}[f]
}

// Lot is one thing in the stores whose amount is counted.
type Lot struct {
	Code     string
	Kind     Kind
	Item     string // what is asked for: the ID of a stock, or that of a tape
	Stock    string // that it is of; of an offcut the one that it was cut from
	Family   workshop.Family
	Batch    string
	WidthMM  int64 // of tape and offcuts
	LengthMM int64 // of an offcut
	Counted  bool  // false: nothing was ever received of the item
	Free     int64
	Reserved int64
	Issued   int64
	Created  time.Time
}

// Need is an amount of an item that a plan takes from the stores.
type Need struct {
	Item   string
	Kind   Kind
	Amount int64
}

// TapeItem names the transfer tape of a tack among the items.
func TapeItem(t workshop.Tack) string { return "tape-" + string(t) }

// OffcutItem names the stock that an offcut is, by the code on its label.
func OffcutItem(code string) string { return "offcut-" + strings.ToLower(code) }

// Needs returns what a plan takes: its stock and, for film on tape, the tape.
func Needs(stock string, form workshop.Form, u layout.Usage) []Need {
	main := Need{Item: stock, Kind: KindOf(form), Amount: int64(u.Sheets)}
	if form == workshop.Roll {
		main.Amount = upMM(u.RollMM)
	}
	needs := []Need{main}
	if u.TapeM > 0 && u.TapeTack != "" {
		needs = append(needs, Need{Item: TapeItem(u.TapeTack), Kind: Tape, Amount: upMM(1000 * u.TapeM)})
	}
	return needs
}

// upMM rounds a length up to whole mm. The noise of float64 sums, below a
// thousandth of a µm, is no further mm.
func upMM(mm float64) int64 { return int64(math.Ceil(mm - 1e-6)) }
