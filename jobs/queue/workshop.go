package queue

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"

	"knifedesk/db"
	"knifedesk/jobs/workshop"
)

// Stocks are the sheets, rolls and offcuts.
func Stocks(q db.Queries) db.Shelf[workshop.Stock] {
	return db.ShelfOf[workshop.Stock](q, db.Stocks)
}

// Machines are the cutters.
func Machines(q db.Queries) db.Shelf[workshop.Machine] {
	return db.ShelfOf[workshop.Machine](q, db.Machines)
}

// Settings are the forces and speeds, tested or to be tested.
func Settings(q db.Queries) db.Shelf[workshop.Setting] {
	return db.ShelfOf[workshop.Setting](q, db.Settings)
}

// Blades are those that were put in.
func Blades(q db.Queries) db.Shelf[workshop.FittedBlade] {
	return db.ShelfOf[workshop.FittedBlade](q, db.Blades)
}

// Conventions say what layers and colours mean.
func Conventions(q db.Queries) db.Shelf[workshop.Convention] {
	return db.ShelfOf[workshop.Convention](q, db.Conventions)
}

// PriceLists are the prices.
func PriceLists(q db.Queries) db.Shelf[workshop.PriceList] {
	return db.ShelfOf[workshop.PriceList](q, db.PriceLists)
}

// Sheets are the sizes that the workshop lists by name.
func Sheets(q db.Queries) db.Shelf[workshop.NamedSize] {
	return db.ShelfOf[workshop.NamedSize](q, db.Sheets)
}

// Workshop returns the newest versions of all the workshop's data.
func Workshop(ctx context.Context, q db.Queries) (workshop.Data, error) {
	var data workshop.Data
	docs, err := q.Newest(ctx)
	if err != nil {
		return data, err
	}
	put := map[db.Table]func([]byte) error{
		db.Stocks: adder(&data.Stocks), db.Machines: adder(&data.Machines), db.Settings: adder(&data.Settings), db.Blades: adder(&data.Blades),
		db.Conventions: adder(&data.Conventions), db.PriceLists: adder(&data.PriceLists), db.Sheets: adder(&data.Sheets),
	}
	for _, d := range docs {
		if err := put[d.Table](d.Doc); err != nil {
			return data, fmt.Errorf("queue: %s: %w", d.Table, err)
		}
	}
	return data, nil
}

// adder returns what reads a document and adds it to a list.
func adder[T any](into *[]T) func([]byte) error {
	return func(doc []byte) error {
		var v T
		err := json.Unmarshal(doc, &v)
		*into = append(*into, v)
		return err
	}
}

// ErrSeeded: the workshop holds data already.
var ErrSeeded = errors.New("the workshop holds data already")

// Seed gives an empty workshop its first data, all of it or nothing. ErrSeeded
// where there is any, a document that was withdrawn included.
func Seed(ctx context.Context, store *db.DB, data workshop.Data) error {
	return store.InTx(ctx, func(tx db.Tx) error {
		vacant, err := tx.Vacant(ctx)
		if err != nil {
			return err
		}
		if !vacant {
			return ErrSeeded
		}
		return errors.Join(
			fill(ctx, Stocks(tx.Queries), data.Stocks, func(s workshop.Stock) string { return s.ID }),
			fill(ctx, Machines(tx.Queries), data.Machines, func(m workshop.Machine) string { return m.ID }),
			fill(ctx, Settings(tx.Queries), data.Settings, func(s workshop.Setting) string { return s.ID }),
			fill(ctx, Conventions(tx.Queries), data.Conventions, func(c workshop.Convention) string { return c.ID }),
			fill(ctx, PriceLists(tx.Queries), data.PriceLists, func(p workshop.PriceList) string { return p.ID }),
			fill(ctx, Sheets(tx.Queries), data.Sheets, func(n workshop.NamedSize) string { return n.Name }),
		)
	})
}

func fill[T any](ctx context.Context, shelf db.Shelf[T], docs []T, id func(T) string) error {
	for _, doc := range docs {
		if _, err := shelf.Put(ctx, id(doc), 0, doc); err != nil {
			return err
		}
	}
	return nil
}
