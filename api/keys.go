package api

import (
	"cmp"
	"net/http"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"knifedesk/api/access"
	"knifedesk/api/keyring"
	"knifedesk/db"
)

// keys answers what is asked of keys and tokens.
type keys struct{ *tools }

// answersSecret says whether an answer holds a secret. Such an answer is not
// kept, so the request is not answered a second time as it was first.
func answersSecret(c echo.Context) bool {
	return strings.HasPrefix(c.Path(), "/v1/keys") || c.Path() == "/v1/tokens" || c.Path() == "/v1/webhooks"
}

// ListKeys answers GET /v1/keys.
func (k keys) ListKeys(c echo.Context, params ListKeysParams) error {
	all, err := k.store.Keys(c.Request().Context())
	if err != nil {
		return err
	}
	return sendPage(c, "keys", all, turn{params.Limit, params.Cursor}, func(k db.Key) string { return k.ID.String() }, showKey)
}

// CreateKey answers POST /v1/keys.
func (k keys) CreateKey(c echo.Context) error {
	var body KeyRequest
	if err := decode(c, &body); err != nil {
		return err
	}
	made, text, err := keyring.Create(c.Request().Context(), k.store, keyring.Order{
		Owner: body.Owner, Name: body.Name, Scopes: each(body.Scopes, func(s Scope) string { return string(s) }),
		Defaults:  db.Defaults{Stock: body.StockID, Convention: body.ConventionID, Frame: body.Frame},
		PerMinute: body.RequestsPerMinute, Expires: body.ExpiresAt,
	})
	if err != nil {
		return err
	}
	return c.JSON(http.StatusCreated, showNewKey(made, text))
}

// RotateKey answers POST /v1/keys/{key_id}/rotation.
func (k keys) RotateKey(c echo.Context, id KeyID) error {
	var body RotationRequest
	if err := decode(c, &body); err != nil {
		return err
	}
	grace := 24 * time.Hour
	if body.GraceMin != nil {
		grace = time.Duration(*body.GraceMin) * time.Minute
	}
	made, text, err := keyring.Rotate(c.Request().Context(), k.store, id, grace)
	if err != nil {
		return lacking(err, "key")
	}
	return c.JSON(http.StatusOK, showNewKey(made, text))
}

// RevokeKey answers DELETE /v1/keys/{key_id}.
func (k keys) RevokeKey(c echo.Context, id KeyID) error {
	if err := k.store.RevokeKey(c.Request().Context(), id); err != nil {
		return lacking(err, "key")
	}
	return c.NoContent(http.StatusNoContent)
}

// CreateToken answers POST /v1/tokens. The token makes things for the client of
// the key that asked for it, with the choices of both.
func (k keys) CreateToken(c echo.Context) error {
	var body TokenRequest
	if err := decode(c, &body); err != nil {
		return err
	}
	who, ctx := callerOf(c), c.Request().Context()
	defaults := db.Defaults{
		Stock:      cmp.Or(body.StockID, who.defaults.Stock),
		Convention: cmp.Or(body.ConventionID, who.defaults.Convention),
		Frame:      cmp.Or(body.Frame, who.defaults.Frame),
	}
	if err := keyring.CheckDefaults(ctx, k.store, defaults); err != nil {
		return err
	}
	secret := access.NewSecret(access.Token, uuid.New())
	t := db.Token{
		ID: secret.ID, Owner: who.owner, Hash: secret.Hash(), Defaults: defaults,
		Expires: time.Now().Add(time.Duration(cmp.Or(body.ExpiresInMin, 120)) * time.Minute).Truncate(time.Second),
		Session: time.Duration(cmp.Or(body.SessionMin, 24*60)) * time.Minute,
	}
	if who.means == byKey {
		t.Key = &who.id
	}
	if err := k.store.AddToken(ctx, t); err != nil {
		return err
	}
	return c.JSON(http.StatusCreated, NewToken{Token: secret.Text(), ExpiresAt: t.Expires, Page: "/#token=" + secret.Text()})
}

func showKey(k db.Key) KeyHead {
	return KeyHead{
		ID: k.ID, Owner: k.Owner, Name: k.Name, Scopes: each(k.Scopes, func(s string) Scope { return Scope(s) }),
		StockID: k.Stock, ConventionID: k.Convention, Frame: k.Frame, RequestsPerMinute: k.PerMinute,
		CreatedAt: k.Created, UsedAt: k.Used, ExpiresAt: k.Expires, RevokedAt: k.Revoked,
	}
}

func showNewKey(k db.Key, text string) NewKey {
	h := showKey(k)
	return NewKey{
		Key: text, ID: h.ID, Owner: h.Owner, Name: h.Name, Scopes: h.Scopes, StockID: h.StockID, ConventionID: h.ConventionID, Frame: h.Frame,
		RequestsPerMinute: h.RequestsPerMinute, CreatedAt: h.CreatedAt, UsedAt: h.UsedAt, ExpiresAt: h.ExpiresAt, RevokedAt: h.RevokedAt,
	}
}
