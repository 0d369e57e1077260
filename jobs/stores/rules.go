package stores

import "time"

// Rules say how long stock is held for a plan that was accepted.
type Rules struct {
	HoldH         int // hours from the acceptance on, without a booking
	AfterBookingH int // hours after the booking ends
	WarnH         int // hours before it lapses in which it is told
	// LeastRollerMM is the least width of an offcut that two rollers reach.
	LeastRollerMM int
}

// HeldUntil returns up to when stock is held that is accepted now, for a booking
// that ends at a time or, where that is nil, without one.
func (r Rules) HeldUntil(now time.Time, bookingEnds *time.Time) time.Time {
	if bookingEnds != nil {
		return bookingEnds.Add(time.Duration(r.AfterBookingH) * time.Hour)
	}
	return now.Add(time.Duration(r.HoldH) * time.Hour)
}

// WarnFrom returns how long before it lapses it is told.
func (r Rules) WarnFrom() time.Duration { return time.Duration(r.WarnH) * time.Hour }

// QuoteUntil returns up to when a quote of a time stands that is valid for so many
// days: to the end of the last of them, in UTC.
func QuoteUntil(quoted time.Time, days int) time.Time {
	y, m, d := quoted.UTC().Date()
	return time.Date(y, m, d+days+1, 0, 0, 0, 0, time.UTC)
}
