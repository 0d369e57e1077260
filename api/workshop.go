package api

import (
	"errors"
	"net/http"

	"github.com/labstack/echo/v4"

	"knifedesk/db"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/workshop"
)

// shelf is how one kind of workshop data is served: under which name it is
// listed, and how its id and version are read and set.
type shelf[T any] struct {
	name    string // of the list in JSON
	thing   string // in messages
	open    func(db.Queries) db.Shelf[T]
	id      func(*T) *string
	version func(*T) *int // nil: the document does not show its version
}

func stocks() shelf[workshop.Stock] {
	return shelf[workshop.Stock]{"stocks", "stock", queue.Stocks,
		func(s *workshop.Stock) *string { return &s.ID }, nil}
}

func machines() shelf[workshop.Machine] {
	return shelf[workshop.Machine]{"machines", "machine", queue.Machines,
		func(m *workshop.Machine) *string { return &m.ID }, nil}
}

func settings() shelf[workshop.Setting] {
	return shelf[workshop.Setting]{"settings", "setting", queue.Settings,
		func(s *workshop.Setting) *string { return &s.ID }, nil}
}

func conventions() shelf[workshop.Convention] {
	return shelf[workshop.Convention]{"conventions", "convention", queue.Conventions,
		func(c *workshop.Convention) *string { return &c.ID }, func(c *workshop.Convention) *int { return &c.Version }}
}

func priceLists() shelf[workshop.PriceList] {
	return shelf[workshop.PriceList]{"price_lists", "price list", queue.PriceLists,
		func(p *workshop.PriceList) *string { return &p.ID }, func(p *workshop.PriceList) *int { return &p.Version }}
}

func (s shelf[T]) list(a *API, c echo.Context) error {
	docs, err := s.open(a.store.Queries).All(c.Request().Context())
	if err != nil {
		return err
	}
	items := make([]T, 0, len(docs))
	for _, d := range docs {
		items = append(items, d.Doc)
	}
	return sendJSON(c, map[string][]T{s.name: items})
}

func (s shelf[T]) get(a *API, c echo.Context, id string) error {
	d, err := s.open(a.store.Queries).Newest(c.Request().Context(), id)
	if errors.Is(err, db.ErrNotFound) {
		return notFound(s.thing)
	}
	if err != nil {
		return err
	}
	return sendJSON(c, d.Doc)
}

// put stores the body as the next version. The id of the path and that of the
// body have to agree; a version in the body is set by us.
func (s shelf[T]) put(a *API, c echo.Context, id string) error {
	var doc T
	if err := decode(c, &doc); err != nil {
		return err
	}
	if *s.id(&doc) != id {
		return unprocessable("id", "id_differs", "The id in the body is not the one in the path.", "Write the same id in both.")
	}
	ctx := c.Request().Context()
	old, err := s.open(a.store.Queries).Newest(ctx, id)
	if err != nil && !errors.Is(err, db.ErrNotFound) {
		return err
	}
	if s.version != nil {
		*s.version(&doc) = old.Version + 1
	}
	stored, err := s.open(a.store.Queries).Put(ctx, id, old.Version, doc)
	if err != nil {
		return err
	}
	return c.JSON(http.StatusOK, stored.Doc)
}

// ListStocks answers GET /v1/stocks.
func (a *API) ListStocks(c echo.Context) error { return stocks().list(a, c) }

// GetStock answers GET /v1/stocks/{item_id}.
func (a *API) GetStock(c echo.Context, id ItemID) error { return stocks().get(a, c, id) }

// PutStock answers PUT /v1/stocks/{item_id}.
func (a *API) PutStock(c echo.Context, id ItemID) error { return stocks().put(a, c, id) }

// ListMachines answers GET /v1/machines.
func (a *API) ListMachines(c echo.Context) error { return machines().list(a, c) }

// GetMachine answers GET /v1/machines/{item_id}.
func (a *API) GetMachine(c echo.Context, id ItemID) error { return machines().get(a, c, id) }

// PutMachine answers PUT /v1/machines/{item_id}.
func (a *API) PutMachine(c echo.Context, id ItemID) error { return machines().put(a, c, id) }

// ListSettings answers GET /v1/settings.
func (a *API) ListSettings(c echo.Context) error { return settings().list(a, c) }

// GetSetting answers GET /v1/settings/{item_id}.
func (a *API) GetSetting(c echo.Context, id ItemID) error { return settings().get(a, c, id) }

// PutSetting answers PUT /v1/settings/{item_id}.
func (a *API) PutSetting(c echo.Context, id ItemID) error { return settings().put(a, c, id) }

// ListConventions answers GET /v1/conventions.
func (a *API) ListConventions(c echo.Context) error { return conventions().list(a, c) }

// GetConvention answers GET /v1/conventions/{item_id}.
func (a *API) GetConvention(c echo.Context, id ItemID) error { return conventions().get(a, c, id) }

// PutConvention answers PUT /v1/conventions/{item_id}.
func (a *API) PutConvention(c echo.Context, id ItemID) error { return conventions().put(a, c, id) }

// ListPriceLists answers GET /v1/price-lists.
func (a *API) ListPriceLists(c echo.Context) error { return priceLists().list(a, c) }

// GetPriceList answers GET /v1/price-lists/{item_id}.
func (a *API) GetPriceList(c echo.Context, id ItemID) error { return priceLists().get(a, c, id) }

// PutPriceList answers PUT /v1/price-lists/{item_id}.
func (a *API) PutPriceList(c echo.Context, id ItemID) error { return priceLists().put(a, c, id) }
