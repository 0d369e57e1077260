package api

import (
	"context"
	"errors"
	"log/slog"
	"net/http"
	"strings"
	"sync"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"knifedesk/api/access"
	"knifedesk/db"
)

// gate finds out who calls and refuses what they may not do.
type gate struct {
	store   *db.DB
	log     *slog.Logger
	keyless bool // who calls from this machine needs no key
	rules   rules
	signing *signing
}

// unknownCaller is the name under which the context of a request holds why its
// caller is not known.
const unknownCaller = "unknown caller"

// identify finds out who calls. What is wrong with it is told by demand, after
// the request was counted: paths that anybody may use need nobody known.
func (g gate) identify(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		who, err := g.callerOf(c)
		c.Set(callerName, who)
		c.Set(unknownCaller, err)
		return next(c)
	}
}

func (g gate) callerOf(c echo.Context) (caller, error) {
	r := c.Request()
	if header := r.Header.Get(echo.HeaderAuthorization); header != "" {
		return g.bySecret(r.Context(), header)
	}
	if signed := c.QueryParam(signedParam); signed != "" {
		return g.byLink(r.Context(), r.URL.Path, signed)
	}
	if g.keyless && onLoopback(r) && !forwarded(r) {
		return localCaller(r)
	}
	return caller{}, nil
}

// bySecret finds the caller of an Authorization header (RFC 6750, 2.1).
func (g gate) bySecret(ctx context.Context, header string) (caller, error) {
	scheme, text, _ := strings.Cut(header, " ")
	secret, ok := access.ParseSecret(strings.TrimSpace(text))
	if !ok || !strings.EqualFold(scheme, "Bearer") {
		return caller{}, errUnknownKey
	}
	switch secret.Kind {
	case access.Token:
		return g.byToken(ctx, secret)
	case access.Capability:
		return g.byCapability(ctx, secret)
	}
	return g.byKey(ctx, secret)
}

func (g gate) byKey(ctx context.Context, secret access.Secret) (caller, error) {
	k, err := g.store.Key(ctx, secret.ID)
	if errors.Is(err, db.ErrNotFound) {
		return caller{}, errUnknownKey
	}
	if err != nil {
		return caller{}, err
	}
	now := time.Now()
	if !secret.Is(k.Hash) && !(secret.Is(k.OldHash) && now.Before(*k.OldUntil)) || k.Revoked != nil {
		return caller{}, errUnknownKey
	}
	if k.Expires != nil && !now.Before(*k.Expires) {
		return caller{}, errKeyExpired
	}
	if k.Used == nil || now.Sub(*k.Used) > time.Minute {
		if err := g.store.UsedKey(ctx, k.ID); err != nil {
			g.log.WarnContext(ctx, "the use of a key is not noted", "key", k.ID, "error", err)
		}
	}
	scopes, err := access.ReadScopes(k.Scopes)
	return caller{means: byKey, owner: k.Owner, id: k.ID, scopes: scopes, defaults: k.Defaults, perMinute: k.PerMinute}, err
}

// byToken takes a token that is spent too: a request that is sent again is
// answered again, and any other finds it spent.
func (g gate) byToken(ctx context.Context, secret access.Secret) (caller, error) {
	t, err := g.token(ctx, secret.ID)
	if err != nil {
		return caller{}, err
	}
	now, until := time.Now(), t.Until
	switch {
	case !secret.Is(t.Hash):
		return caller{}, errUnknownKey
	case until == nil && !now.Before(t.Expires), until != nil && !now.Before(*until):
		return caller{}, errTokenExpired
	case until == nil:
		end := now.Add(t.Session)
		until = &end
	}
	return caller{means: byToken, owner: t.Owner, id: t.ID, until: *until, defaults: t.Defaults}, nil
}

func (g gate) byCapability(ctx context.Context, secret access.Secret) (caller, error) {
	sign, err := g.signing.signer(ctx)
	if err != nil {
		return caller{}, err
	}
	if !sign.IsCapability(secret) {
		return caller{}, errUnknownKey
	}
	t, err := g.token(ctx, secret.ID)
	switch {
	case err != nil:
		return caller{}, err
	case t.Until == nil || t.Drawing == nil:
		return caller{}, errUnknownKey
	case !time.Now().Before(*t.Until):
		return caller{}, errTokenExpired
	}
	return caller{means: byCapability, owner: t.Owner, id: t.ID, drawing: *t.Drawing, until: *t.Until, defaults: t.Defaults}, nil
}

func (g gate) token(ctx context.Context, id uuid.UUID) (db.Token, error) {
	t, err := g.store.Token(ctx, id)
	if errors.Is(err, db.ErrNotFound) || err == nil && t.Revoked {
		err = errUnknownKey
	}
	return t, err
}

func (g gate) byLink(ctx context.Context, path, signed string) (caller, error) {
	sign, err := g.signing.signer(ctx)
	if err != nil {
		return caller{}, err
	}
	switch ok, expired := sign.Signed(path, signed, time.Now()); {
	case !ok:
		return caller{}, errBrokenLink
	case expired:
		return caller{}, errLinkExpired
	}
	return caller{means: byLink}, nil
}

// demand refuses what the caller may not do.
func (g gate) demand(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		needs, guarded := g.rules.of(c)
		if !guarded {
			return next(c)
		}
		if err, _ := c.Get(unknownCaller).(error); err != nil {
			return challenge(c, err)
		}
		who := callerOf(c)
		if !needs.metBy(who) {
			return challenge(c, needs.refusal(who))
		}
		if err := g.bound(c, who); err != nil {
			return err
		}
		if who.means == byToken && c.Request().Method == http.MethodPost {
			if err := g.redeem(c, who.id); err != nil {
				return err
			}
		}
		return next(c)
	}
}

// bound keeps a capability to its drawing and the plans made from it.
func (g gate) bound(c echo.Context, who caller) error {
	if who.means != byCapability {
		return nil
	}
	if drawing := c.Param("drawing_id"); drawing != "" && !sameID(drawing, who.drawing) {
		return notFound("drawing")
	}
	text := c.Param("plan_id")
	if text == "" {
		return nil
	}
	id, err := uuid.Parse(text)
	if err != nil {
		return notFound("plan")
	}
	ours, err := g.store.PlanOfDrawing(c.Request().Context(), id, who.drawing)
	if err == nil && !ours {
		err = notFound("plan")
	}
	return err
}

func sameID(text string, id uuid.UUID) bool {
	got, err := uuid.Parse(text)
	return err == nil && got == id
}

// capabilityHeader is how a browser gets what its token was redeemed for.
const capabilityHeader = "Submission-Capability"

// redeem has a good answer to the drawing that spends a token carry the capability, also
// where it is sent again. Reading spends nothing: who has only the link of another visitor
// would get at that one's drawing. The capability is not among what is kept of an answer.
func (g gate) redeem(c echo.Context, token uuid.UUID) error {
	sign, err := g.signing.signer(c.Request().Context())
	if err != nil {
		return err
	}
	c.Response().Before(func() {
		if c.Response().Status < http.StatusMultipleChoices {
			c.Response().Header().Set(capabilityHeader, sign.Capability(token).Text())
		}
	})
	return nil
}

// signing holds the secret of the service, which is read when it is needed first.
type signing struct {
	store *db.DB

	mu   sync.Mutex
	made *access.Signer
}

func (s *signing) signer(ctx context.Context) (access.Signer, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.made == nil {
		secret, err := s.store.SigningSecret(ctx)
		if err != nil {
			return access.Signer{}, err
		}
		made := access.NewSigner(secret)
		s.made = &made
	}
	return *s.made, nil
}
