package api

import (
	"cmp"
	"context"
	"errors"
	"log/slog"
	"net/http"
	"net/netip"
	"runtime"
	"time"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/google/uuid"
	"github.com/labstack/echo/v4"
	"github.com/labstack/echo/v4/middleware"
	"github.com/prometheus/client_golang/prometheus"

	"knifedesk/api/help"
	"knifedesk/db"
	"knifedesk/jobs"
	"knifedesk/jobs/queue"
	"knifedesk/jobs/queue/ledger"
	"knifedesk/jobs/queue/trials"
	"knifedesk/jobs/queue/webhook"
)

// Jobs is what the API asks of the queue.
type Jobs interface {
	// Room takes room in memory for reading a file, within queue.Holding.
	Room(ctx context.Context, file []byte) error
	// Read returns the first job's result for a file.
	Read(ctx context.Context, file []byte) (jobs.Result, error)
	Submit(ctx context.Context, params queue.SubmitParams, further ...queue.SubmitParams) (queue.Plan, error)
	Answer(ctx context.Context, client string, id uuid.UUID, replies ...queue.Reply) (queue.Plan, error)
	TakeBack(ctx context.Context, client string, id uuid.UUID, question, author string) (queue.Plan, error)
	Cancel(ctx context.Context, client string, id uuid.UUID) (queue.Plan, error)
	// Erase removes a plan however it stands, and its results.
	Erase(ctx context.Context, client string, id uuid.UUID) error
	// EraseDrawing removes a drawing, and with plans first what was made of it.
	EraseDrawing(ctx context.Context, client string, id uuid.UUID, plans bool) error
	// EraseAll removes, or with dry only counts, what is picked.
	EraseAll(ctx context.Context, what db.Erasable, dry bool) (queue.Erased, error)
	// Resend has a delivery of a webhook sent once more.
	Resend(ctx context.Context, webhook, delivery uuid.UUID) (db.Delivery, error)
	// Wait returns once the plan has settled or ctx has ended.
	Wait(ctx context.Context, client string, id uuid.UUID) (queue.Standing, error)
	// Watch gives a token after each change of the plan, until the function is called.
	Watch(id uuid.UUID) (<-chan struct{}, func())
	// View and Views return what callers read of plans.
	View(ctx context.Context, client string, id uuid.UUID) (*queue.PlanView, error)
	Views(ctx context.Context, f db.PlanFilter) ([]*queue.PlanView, error)
	ClassSets
	// Results returns the results under keys, by the names of their jobs.
	Results(ctx context.Context, keys map[string]string) (jobs.Results, error)
	// Book is the ledger, as it tells receivers what becomes of acceptances.
	Book() ledger.Book
	// Tasks lists what runs and waits, of all clients.
	Tasks(ctx context.Context, limit int) ([]db.Task, error)
}

// ClassSets is what the API asks of the queue for class sets.
type ClassSets interface {
	// AddClassSet keeps a set with its first members, AddMembers adds further ones:
	// all or none.
	AddClassSet(ctx context.Context, s db.ClassSet, roster []string, members []queue.SubmitParams, with func(db.Tx, uuid.UUID) error) (uuid.UUID, error)
	AddMembers(ctx context.Context, client string, set uuid.UUID, members []queue.SubmitParams, with func(db.Tx) error) error
	DropMember(ctx context.Context, client string, set uuid.UUID, reference string) error
	ChangeClassSet(ctx context.Context, client string, id uuid.UUID, roster []string, alter func(*db.ClassSet) error) error
	// IssueLoad notes that a load was handed out, or is done.
	IssueLoad(ctx context.Context, client string, set uuid.UUID, step queue.LoadStep) error
	// Shared returns the results of common loads by their keys.
	Shared(ctx context.Context, keys []string) (jobs.Results, error)
	// ClassSet returns what callers read of a set.
	ClassSet(ctx context.Context, client string, id uuid.UUID) (*queue.ClassView, error)
	// WaitClassSet returns once nothing of a set is worked out any more or ctx has ended.
	WaitClassSet(ctx context.Context, id uuid.UUID) error
	// EraseClassSet removes a set with its members.
	EraseClassSet(ctx context.Context, client string, id uuid.UUID) error
}

// Config says what the API stands on. The zero value of a limit is its default.
type Config struct {
	Store   *db.DB
	Jobs    Jobs
	List    *jobs.List // that Jobs runs
	Log     *slog.Logger
	Metrics *prometheus.Registry
	// Keyless lets those who call from this machine in without a key. It is for a
	// service that listens on a loopback address alone.
	Keyless  bool
	MaxBytes int64 // of a request's body, 64 MB
	// PerMinute is how many requests one key or, without one, one address may send
	// in a minute, all at once or spread, 3000; below 0: as many as it likes.
	PerMinute int
	// Waiting bounds the requests that Prefer: wait holds open, Streams the event
	// streams, and Queued the plans that are queued or worked on.
	Waiting, Streams, Queued Bound
	// Origins are the sites whose pages may call from a browser, as scheme://host.
	Origins []string
	// Proxies are the networks whose X-Forwarded-For says who calls.
	Proxies []netip.Prefix
	// Drawing is how many pictures, files and drawings are made or read at a
	// time, one a processor and 2 at least; others wait for their turn.
	Drawing int
	// Webhooks says which receivers of events may be named, as the queue reaches them.
	Webhooks webhook.Config
	// CacheBytes bounds what is kept in memory of pictures, worksheets, files
	// and parts, 64 MB; below 0: nothing is kept.
	CacheBytes int64
	// Closing ends waits and event streams, so that the server can stop; nil:
	// they end by themselves only.
	Closing context.Context
}

// filled returns c with its defaults.
func (c Config) filled() Config {
	c.MaxBytes = cmp.Or(c.MaxBytes, 64<<20)
	c.PerMinute = cmp.Or(c.PerMinute, 3000)
	c.Waiting = c.Waiting.or(DefaultWaiting())
	c.Streams = c.Streams.or(DefaultStreams())
	c.Queued = c.Queued.or(DefaultQueued())
	c.Drawing = cmp.Or(c.Drawing, max(2, runtime.GOMAXPROCS(0)))
	c.CacheBytes = cmp.Or(c.CacheBytes, 64<<20)
	c.Closing = cmp.Or(c.Closing, context.Background())
	return c
}

// handlers answers the requests of the specification, each resource by its own
// type.
type handlers struct {
	drawings
	plans
	parts
	shelves
	storeroom
	acceptances
	bench
	service
	keys
	webhooks
	classSets
}

var _ ServerInterface = handlers{}

// tools are what the resources share.
type tools struct {
	store *db.DB
	kept  *queue.Kept // the workshop's data
	jobs  Jobs
	list  *jobs.List
	log   *slog.Logger
	turns turns
	made  *cache

	signing *signing
}

// New returns the handler of the whole API.
func New(cfg Config) (http.Handler, error) {
	cfg = cfg.filled()
	log := slog.New(requestLog{cfg.Log.Handler()})
	spec, err := Spec()
	if err != nil {
		return nil, err
	}
	gate := gate{store: cfg.Store, log: log, keyless: cfg.Keyless, rules: takeRules(spec), signing: &signing{store: cfg.Store}}
	check, err := checkRequests(spec, gate.rules)
	if err != nil {
		return nil, err
	}
	measure, refused, err := measureRequests(cfg.Metrics)
	if err != nil {
		return nil, err
	}
	h, err := newHandlers(cfg, log, spec, gate.signing)
	if err != nil {
		return nil, err
	}
	lessons, err := help.New()
	if err != nil {
		return nil, err
	}
	pages := helpPages{h.drawings.tools, lessons}
	e := echo.New()
	e.HideBanner, e.HidePort = true, true
	e.IPExtractor = addresses(cfg.Proxies)
	e.HTTPErrorHandler = writeProblem(log, refused)
	e.Pre(identify)
	e.Use(
		logRequests(log), measure, recoverPanics(log), protect, shareWith(cfg.Origins), gate.identify,
		limitRate(cfg.PerMinute), gate.demand, limitBody(cfg.MaxBytes), check, newReplays(h).once,
	)
	RegisterHandlers(e, h)
	e.GET("/docs/*", h.GetDocs)
	e.GET("/", pageFile("index.html"))
	e.GET(measurePath, pageFile("measure.html"))
	e.GET("/page/:file", pageFile(""))
	e.GET("/help", pages.index)
	e.GET(helpPath+":code", pages.lesson)
	return headAsGet(e), nil
}

func newHandlers(cfg Config, log *slog.Logger, spec *openapi3.T, signing *signing) (handlers, error) {
	t := &tools{
		store: cfg.Store, kept: queue.Keep(cfg.Store), jobs: cfg.Jobs, list: cfg.List, log: log, turns: newTurns(cfg.Drawing), made: newCache(cfg.CacheBytes), signing: signing,
	}
	p, errPlans := newPlans(cfg, t, spec)
	about, errAbout := newService(cfg.Store, cfg.Jobs, log, cfg.Metrics)
	return handlers{
		drawings: drawings{t}, plans: p, parts: parts{t}, shelves: shelves{cfg.Store}, storeroom: storeroom{t, cfg.Jobs.Book()}, acceptances: acceptances{t},
		bench: bench{t, trials.Open(cfg.Store)}, service: about, keys: keys{t}, webhooks: webhooks{t, cfg.Webhooks}, classSets: classSets{p},
	}, errors.Join(errPlans, errAbout)
}

func newPlans(cfg Config, t *tools, spec *openapi3.T) (plans, error) {
	waiting, errWaiting := newSeats(&seats{most: cfg.Waiting, code: "too_many_waiting", what: "requests that wait for a plan", again: 2 * time.Second},
		"requests_waiting", "Requests held open until a plan settles.", cfg.Metrics)
	streams, errStreams := newSeats(&seats{most: cfg.Streams, code: "too_many_streams", what: "event streams open", again: 10 * time.Second},
		"event_streams", "Event streams that are open.", cfg.Metrics)
	return plans{
		tools: t, spec: spec, closing: cfg.Closing, waiting: waiting, streams: streams,
		feeds: &feeds{jobs: t.jobs, log: t.log, open: map[uuid.UUID]*feed{}}, queued: newBacklog(cfg.Store, cfg.Queued),
	}, errors.Join(errWaiting, errStreams)
}

func recoverPanics(log *slog.Logger) echo.MiddlewareFunc {
	return middleware.RecoverWithConfig(middleware.RecoverConfig{LogErrorFunc: func(c echo.Context, err error, stack []byte) error {
		log.ErrorContext(c.Request().Context(), "handler panicked", "error", err, "stack", string(stack))
		return errors.New("panic")
	}})
}

// lacking turns "not found" of the store into a 404 that names the thing.
func lacking(err error, what string) error {
	if errors.Is(err, db.ErrNotFound) {
		return notFound(what)
	}
	return err
}
