package api

import (
	"context"

	"github.com/labstack/echo/v4"

	"knifedesk/api/help"
	"knifedesk/api/page"
	"knifedesk/jobs/finding"
	"knifedesk/jobs/lesson"
)

// helpPath is where the page of a code is, before the code.
const helpPath = "/help/"

// helpPages serves the pages that say what findings mean.
type helpPages struct {
	*tools
	pages help.Pages
}

// index answers GET /help with a list of all pages.
func (h helpPages) index(c echo.Context) error {
	return h.serve(c, "help", func(context.Context) ([]byte, error) { return h.pages.Index() })
}

// lesson answers GET /help/{code} with the page of a code.
func (h helpPages) lesson(c echo.Context) error {
	l, group, ok := lesson.Of(finding.Code(c.Param("code")))
	if !ok {
		return notFound("page")
	}
	return h.serve(c, cacheKey("help", string(l.Code)), func(ctx context.Context) (body []byte, err error) {
		err = h.turns.inTurn(ctx, func() (err error) {
			body, err = h.pages.Lesson(ctx, h.list, l, group)
			return err
		})
		return body, err
	})
}

func (h helpPages) serve(c echo.Context, key string, write func(context.Context) ([]byte, error)) error {
	c.Response().Header().Set(echo.HeaderContentSecurityPolicy, page.Policy)
	return h.sendMade(c, key, func(ctx context.Context) (content, error) {
		body, err := write(ctx)
		return newContent(echo.MIMETextHTMLCharsetUTF8, body), err
	})
}
