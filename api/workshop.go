package api

import (
	"errors"
	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/workshop"
)

// shelves answers what is asked of the workshop's data.
type shelves struct{ store *db.DB }

// shelf is how one kind of workshop data is served: T as the workshop keeps it,
// A as the API shows it.
type shelf[T, A any] struct {
	name    string // of the list in JSON
	thing   string // in messages
	open    func(db.Queries) db.Shelf[T]
	show    func(T) A
	read    func(A) (T, error)
	id      func(*T) string
	version func(*T) *int // nil: the document does not show its version
	check   func(T) error // of its fields against each other, a *workshop.FieldError; nil: none
}

func stocks() shelf[workshop.Stock, Stock] {
	return shelf[workshop.Stock, Stock]{
		name: "stocks", thing: "stock", open: queue.Stocks,
		show: showStock, read: readStock, id: func(s *workshop.Stock) string { return s.ID },
		check: workshop.Stock.Check,
	}
}

func machines() shelf[workshop.Machine, Machine] {
	return shelf[workshop.Machine, Machine]{
		name: "machines", thing: "machine", open: queue.Machines,
		show: showMachine, read: readMachine, id: func(m *workshop.Machine) string { return m.ID },
		check: workshop.Machine.Check,
	}
}

func settings() shelf[workshop.Setting, Setting] {
	return shelf[workshop.Setting, Setting]{
		name: "settings", thing: "setting", open: queue.Settings,
		show: showSetting, read: readSetting, id: func(s *workshop.Setting) string { return s.ID },
	}
}

func blades() shelf[workshop.FittedBlade, FittedBlade] {
	return shelf[workshop.FittedBlade, FittedBlade]{
		name: "blades", thing: "blade", open: queue.Blades,
		show: showFittedBlade, read: readFittedBlade, id: func(b *workshop.FittedBlade) string { return b.ID },
	}
}

func conventions() shelf[workshop.Convention, Convention] {
	return shelf[workshop.Convention, Convention]{
		name: "conventions", thing: "convention", open: queue.Conventions,
		show: showConvention, read: readConvention, id: func(c *workshop.Convention) string { return c.ID },
		version: func(c *workshop.Convention) *int { return &c.Version },
		check:   workshop.Convention.Check,
	}
}

func priceLists() shelf[workshop.PriceList, PriceList] {
	return shelf[workshop.PriceList, PriceList]{
		name: "price_lists", thing: "price list", open: queue.PriceLists,
		show: showPriceList, read: readPriceList, id: func(p *workshop.PriceList) string { return p.ID },
		version: func(p *workshop.PriceList) *int { return &p.Version },
	}
}

func (s shelf[T, A]) list(store *db.DB, c echo.Context, t turn) error {
	docs, err := s.open(store.Queries).All(c.Request().Context())
	if err != nil {
		return err
	}
	return sendPage(c, s.name, docs, t, idOf[T], func(d db.Document[T]) A { return s.show(d.Doc) })
}

func idOf[T any](d db.Document[T]) string { return d.ID }

func (s shelf[T, A]) get(store *db.DB, c echo.Context, id string) error {
	d, err := s.open(store.Queries).Newest(c.Request().Context(), id)
	if errors.Is(err, db.ErrNotFound) {
		return notFound(s.thing)
	}
	if err != nil {
		return err
	}
	return sendJSON(c, s.show(d.Doc))
}

// put stores the body as the next version. The id of the path and that of the
// body have to agree; a version in the body is set by us.
func (s shelf[T, A]) put(store *db.DB, c echo.Context, id string) error {
	var body A
	if err := decode(c, &body); err != nil {
		return err
	}
	doc, err := s.read(body)
	if err != nil {
		return err
	}
	if s.id(&doc) != id {
		return unprocessable("id", "id_differs", "The id in the body is not the one in the path.", "Write the same id in both.")
	}
	if err := s.agrees(doc); err != nil {
		return err
	}
	ctx := c.Request().Context()
	old, err := s.open(store.Queries).Newest(ctx, id)
	if err != nil && !errors.Is(err, db.ErrNotFound) {
		return err
	}
	var seen any
	if err == nil {
		seen = s.show(old.Doc)
	}
	if err := matches(c, seen); err != nil {
		return err
	}
	if s.version != nil {
		*s.version(&doc) = old.Version + 1
	}
	var stored db.Document[T]
	err = store.InTx(ctx, func(tx db.Tx) error { // which waits for the disk
		stored, err = s.open(tx.Queries).Put(ctx, id, old.Version, doc)
		return err
	})
	return sendPut(c, s.show(stored.Doc), err)
}

// agrees refuses a document whose fields cannot hold beside each other.
func (s shelf[T, A]) agrees(doc T) error {
	if s.check == nil {
		return nil
	}
	err := s.check(doc)
	var bad *workshop.FieldError
	if errors.As(err, &bad) {
		return unprocessable(bad.Field, "fields_disagree", bad.Reason, bad.Change)
	}
	return err
}

// ListStocks answers GET /v1/stocks.
func (s shelves) ListStocks(c echo.Context, params ListStocksParams) error {
	return stocks().list(s.store, c, turn{params.Limit, params.Cursor})
}

// GetStock answers GET /v1/stocks/{item_id}.
func (s shelves) GetStock(c echo.Context, id ItemID) error { return stocks().get(s.store, c, id) }

// PutStock answers PUT /v1/stocks/{item_id}.
func (s shelves) PutStock(c echo.Context, id ItemID, _ PutStockParams) error {
	return stocks().put(s.store, c, id)
}

// ListMachines answers GET /v1/machines.
func (s shelves) ListMachines(c echo.Context, params ListMachinesParams) error {
	return machines().list(s.store, c, turn{params.Limit, params.Cursor})
}

// GetMachine answers GET /v1/machines/{item_id}.
func (s shelves) GetMachine(c echo.Context, id ItemID) error { return machines().get(s.store, c, id) }

// PutMachine answers PUT /v1/machines/{item_id}.
func (s shelves) PutMachine(c echo.Context, id ItemID, _ PutMachineParams) error {
	return machines().put(s.store, c, id)
}

// ListSettings answers GET /v1/settings.
func (s shelves) ListSettings(c echo.Context, params ListSettingsParams) error {
	return settings().list(s.store, c, turn{params.Limit, params.Cursor})
}

// GetSetting answers GET /v1/settings/{item_id}.
func (s shelves) GetSetting(c echo.Context, id ItemID) error { return settings().get(s.store, c, id) }

// PutSetting answers PUT /v1/settings/{item_id}.
func (s shelves) PutSetting(c echo.Context, id ItemID, _ PutSettingParams) error {
	return settings().put(s.store, c, id)
}

// ListBlades answers GET /v1/blades.
func (s shelves) ListBlades(c echo.Context, params ListBladesParams) error {
	ctx := c.Request().Context()
	docs, err := queue.Blades(s.store.Queries).All(ctx)
	if err != nil {
		return err
	}
	worn, err := s.store.Worn(ctx)
	if err != nil {
		return err
	}
	return sendPage(c, "blades", docs, turn{params.Limit, params.Cursor}, idOf[workshop.FittedBlade],
		func(d db.Document[workshop.FittedBlade]) FittedBlade { return showWorn(d.Doc, worn) })
}

// GetBlade answers GET /v1/blades/{item_id}.
func (s shelves) GetBlade(c echo.Context, id ItemID) error { return blades().get(s.store, c, id) }

// PutBlade answers PUT /v1/blades/{item_id}.
func (s shelves) PutBlade(c echo.Context, id ItemID, _ PutBladeParams) error {
	return blades().put(s.store, c, id)
}

// ListConventions answers GET /v1/conventions.
func (s shelves) ListConventions(c echo.Context, params ListConventionsParams) error {
	return conventions().list(s.store, c, turn{params.Limit, params.Cursor})
}

// GetConvention answers GET /v1/conventions/{item_id}.
func (s shelves) GetConvention(c echo.Context, id ItemID) error {
	return conventions().get(s.store, c, id)
}

// PutConvention answers PUT /v1/conventions/{item_id}.
func (s shelves) PutConvention(c echo.Context, id ItemID, _ PutConventionParams) error {
	return conventions().put(s.store, c, id)
}

// ListPriceLists answers GET /v1/price-lists.
func (s shelves) ListPriceLists(c echo.Context, params ListPriceListsParams) error {
	return priceLists().list(s.store, c, turn{params.Limit, params.Cursor})
}

// GetPriceList answers GET /v1/price-lists/{item_id}.
func (s shelves) GetPriceList(c echo.Context, id ItemID) error {
	return priceLists().get(s.store, c, id)
}

// PutPriceList answers PUT /v1/price-lists/{item_id}.
func (s shelves) PutPriceList(c echo.Context, id ItemID, _ PutPriceListParams) error {
	return priceLists().put(s.store, c, id)
}
