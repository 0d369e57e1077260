package api

import (
	"errors"
	"net/http"

	"github.com/labstack/echo/v4"

	"knifedesk/api/keyring"
	"knifedesk/db"
)

// What is told where a caller is not known. A key that was revoked is told like
// one that never was.
var (
	errKeyMissing   = unauthorised("key_missing", "This needs a key.", "Send one as Authorization: Bearer …; the workshop gives them out.")
	errUnknownKey   = unauthorised("key_unknown", "The key or token is not one of this service, or it was revoked.", "Copy it whole, beginning with kdk_, kdt_ or kdc_; the workshop gives out new ones.")
	errKeyExpired   = unauthorised("key_expired", "The key has expired.", "Ask the workshop for a new one.")
	errTokenExpired = unauthorised("token_expired", "The time of this link to the form is over.", "Ask the workshop for a new link.")
	errBrokenLink   = forbidden("link_broken", "The link is not one that this service has signed for this.", "Copy it whole, or ask for a new one.")
	errLinkExpired  = forbidden("link_expired", "The time of the link is over.", "Ask for a new one.")
)

func unauthorised(code, detail, change string) error {
	return &failure{status: http.StatusUnauthorized, code: code, detail: detail, change: change}
}

func forbidden(code, detail, change string) error {
	return &failure{status: http.StatusForbidden, code: code, detail: detail, change: change}
}

// challenge says with a 401 what kind of key is taken (RFC 6750, 3).
func challenge(c echo.Context, err error) error {
	if f := asFailure(err); f.status == http.StatusUnauthorized {
		c.Response().Header().Set(echo.HeaderWWWAuthenticate, `Bearer realm="knifedesk"`)
	}
	return err
}

// fromAccess words what is refused of keys and tokens; nil for any other error.
func fromAccess(err error) *failure {
	if errors.Is(err, db.ErrSpent) {
		return conflict("token_spent", "This link to the form has taken a drawing already.", "Go on with that drawing in the same browser, or ask the workshop for another link.")
	}
	var field *keyring.FieldError
	if errors.As(err, &field) {
		return &failure{status: http.StatusUnprocessableEntity, code: "invalid_body", field: field.Field, detail: field.Reason, change: field.Change}
	}
	return nil
}
