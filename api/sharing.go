package api

import (
	"cmp"
	"net/http"
	"strings"
	"time"

	"github.com/labstack/echo/v4"
)

// shareable says whether what is at a path can be opened by a signed link:
// pictures, worksheets and files, as the specification says of them.
func shareable(path string) bool {
	return strings.Contains(path, "/previews/") || strings.Contains(path, "/files/") ||
		strings.Contains(path, "/mended.") || strings.HasSuffix(path, "/worksheet.pdf") || strings.HasSuffix(path, "/proof.pdf") || strings.HasSuffix(path, "/preview.svg")
}

// signLinks has those links of a plan that a browser opens by itself carry a
// signature, for one that came with a token: it can send none along with them.
// They are good as long as its capability is.
func (t *tools) signLinks(c echo.Context, links map[string]string) error {
	who := callerOf(c)
	if who.means != byToken && who.means != byCapability {
		return nil
	}
	sign, err := t.signing.signer(c.Request().Context())
	if err != nil {
		return err
	}
	for name, path := range links {
		if shareable(path) {
			links[name] = path + "?" + signedParam + "=" + sign.Sign(path, who.until)
		}
	}
	return nil
}

// codeLife is how long the code on a sheet of paper is good at least; a sheet that is
// printed again within a third of it has the same code.
const codeLife = 90 * 24 * time.Hour

// measureLink is the address behind the code on a sheet: a page that speaks to one path,
// by a signature and without a key. It stands behind the #, so that it is in no log.
func (t *tools) measureLink(c echo.Context, path string) (string, error) {
	sign, err := t.signing.signer(c.Request().Context())
	if err != nil {
		return "", err
	}
	until := time.Now().UTC().Truncate(codeLife / 3).Add(codeLife + codeLife/3)
	return here(c) + measurePath + "#" + path + "?" + signedParam + "=" + sign.Sign(path, until), nil
}

// SharePlan answers POST /v1/plans/{plan_id}/links.
func (p plans) SharePlan(c echo.Context, id PlanID) error {
	var body LinkRequest
	if err := decode(c, &body); err != nil {
		return err
	}
	ctx := c.Request().Context()
	v, err := p.jobs.View(ctx, clientOf(c), id)
	if err != nil {
		return lacking(err, "plan")
	}
	sign, err := p.signing.signer(ctx)
	if err != nil {
		return err
	}
	until := time.Now().Add(time.Duration(cmp.Or(body.ExpiresInMin, 24*60)) * time.Minute).Truncate(time.Second)
	if who := callerOf(c); who.means == byCapability && who.until.Before(until) {
		until = who.until.Truncate(time.Second) // no longer than it is good itself
	}
	out := SharedLinks{ExpiresAt: until, Links: map[string]string{}}
	for name, path := range p.links(v) {
		if shareable(path) {
			out.Links[name] = path + "?" + signedParam + "=" + sign.Sign(path, until)
		}
	}
	return c.JSON(http.StatusOK, out)
}
