package queue

import (
	"context"
	"slices"
	"sync"

	"knifedesk/db"
	"knifedesk/jobs/workshop"
)

// Kept is the workshop's data as this process read it last. Each plan needs all of
// it, and it seldom changes: it is read again only after something was added. Its
// methods may be called from several goroutines.
type Kept struct {
	store *db.DB

	mu      sync.Mutex
	edition string
	data    workshop.Data
}

// Keep returns the workshop's data of a store, which are not read yet.
func Keep(store *db.DB) *Kept { return &Kept{store: store} }

// Data returns the newest versions of all the workshop's data. They are shared:
// nobody changes what they hold.
func (k *Kept) Data(ctx context.Context) (workshop.Data, error) {
	edition, err := k.store.Edition(ctx) // first: what comes in between is seen the next time
	if err != nil {
		return workshop.Data{}, err
	}
	k.mu.Lock()
	data, known := k.data, k.edition == edition
	k.mu.Unlock()
	if known {
		return data, nil
	}
	if data, err = Workshop(ctx, k.store.Queries); err != nil {
		return workshop.Data{}, err
	}
	data = clipped(data)
	k.mu.Lock()
	defer k.mu.Unlock()
	k.edition, k.data = edition, data
	return data, nil
}

// clipped has no room behind its lists, so that whoever appends to one gets a list of
// their own.
func clipped(d workshop.Data) workshop.Data {
	d.Stocks, d.Machines, d.Settings, d.Blades = slices.Clip(d.Stocks), slices.Clip(d.Machines), slices.Clip(d.Settings), slices.Clip(d.Blades)
	d.Conventions, d.PriceLists, d.Sheets = slices.Clip(d.Conventions), slices.Clip(d.PriceLists), slices.Clip(d.Sheets)
	return d
}
