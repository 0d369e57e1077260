package api

import (
	"mime"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"
)

// prefersText says whether an Accept header wants plain text rather than JSON
// (RFC 9110, 12.5.1). JSON is the answer where both are wanted alike or
// neither, unless plain text is named first.
func prefersText(accept string) bool {
	text, json := weighed{}, weighed{}
	for at, part := range strings.Split(accept, ",") {
		kind, params, err := mime.ParseMediaType(part)
		if err != nil {
			continue
		}
		q := 1.0
		if v, err := strconv.ParseFloat(params["q"], 64); err == nil {
			q = v
		}
		text.weigh(kind, echo.MIMETextPlain, "text/*", q, at)
		json.weigh(kind, echo.MIMEApplicationJSON, "application/*", q, at)
	}
	if text.q != json.q {
		return text.q > json.q
	}
	return text.q > 0 && text.exact == 2 && (json.exact < 2 || text.at < json.at)
}

// weighed is how much a media type is wanted, by the most specific range of the
// header that matches it.
type weighed struct {
	q     float64
	exact int // 2: by its name, 1: by its family, 0: as anything
	at    int
	set   bool
}

func (w *weighed) weigh(kind, name, family string, q float64, at int) {
	exact := 0
	switch kind {
	case name:
		exact = 2
	case family:
		exact = 1
	case "*/*":
	default:
		return
	}
	if !w.set || exact > w.exact {
		*w = weighed{q: q, exact: exact, at: at, set: true}
	}
}
