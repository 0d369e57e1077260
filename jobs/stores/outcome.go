package stores

// Result is what became of a lot that was handed out. Used and Spoiled are what
// was cut well and badly, Left what comes back. Two of the three are enough where
// nothing more was taken than was handed out; with all three it is known that more
// was.
type Result struct {
	Lot     string
	Used    *int64 // nil: what is neither spoiled nor left
	Spoiled int64
	Left    *int64 // nil: what is neither used nor spoiled
}

// Amounts are what a Result comes to for a lot of which an amount was handed out.
type Amounts struct {
	More    int64 // taken beyond what was handed out
	Used    int64
	Spoiled int64
	Left    int64
}

// Of returns the amounts of a result; false where they do not add up: more came
// back than there was.
func (r Result) Of(issued int64) (Amounts, bool) {
	a := Amounts{Spoiled: r.Spoiled}
	switch {
	case r.Used != nil && r.Left != nil:
		a.Used, a.Left = *r.Used, *r.Left
	case r.Used != nil:
		a.Used = *r.Used
		a.Left = max(0, issued-a.Used-a.Spoiled)
	case r.Left != nil:
		a.Left = *r.Left
		a.Used = issued - a.Spoiled - a.Left
	default:
		a.Used = max(0, issued-a.Spoiled)
	}
	a.More = a.Used + a.Spoiled + a.Left - issued
	return a, a.Used >= 0 && a.Spoiled >= 0 && a.Left >= 0 && a.More >= 0
}
