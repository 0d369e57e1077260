package api

import (
	"cmp"
	"net/http"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"knifedesk/jobs/class"
)

// boardPage is the page that shows a board; after a # it is told which.
const boardPage = "/page/board.html#"

// GetClassBoard answers GET /v1/class-sets/{class_set_id}/board.
func (s classSets) GetClassBoard(c echo.Context, id ClassSetID) error {
	d, err := s.described(c, id)
	if err != nil {
		return err
	}
	marks, unmarked := d.of.Board()
	r := d.of.Count()
	return sendJSON(c, ClassBoard{
		Answer: d.of.Gist(), Settled: d.Settled, Of: r.Of, Unmarked: unmarked, NothingReceived: len(r.Missing),
		Members: each(marks, func(m class.Mark) ClassMark {
			return ClassMark{Code: m.Code, Standing: ClassStanding(m.Standing), Loads: m.Loads}
		}),
		Loads: eachAt(d.of.Loads, func(l *class.Load) ClassBoardLoad {
			return ClassBoardLoad{
				Number: l.Number, Standing: ClassStanding(l.Standing()), StockName: l.StockName,
				Codes: each(l.Placed, func(p class.Placed) string { return p.Code }),
			}
		}),
	})
}

// ShareClassSet answers POST /v1/class-sets/{class_set_id}/links.
func (s classSets) ShareClassSet(c echo.Context, id ClassSetID) error {
	var body LinkRequest
	if err := decode(c, &body); err != nil {
		return err
	}
	if _, _, err := s.find(c, id); err != nil {
		return err
	}
	sign, err := s.orders.signing.signer(c.Request().Context())
	if err != nil {
		return err
	}
	until := time.Now().Add(time.Duration(cmp.Or(body.ExpiresInMin, 24*60)) * time.Minute).Truncate(time.Second)
	board := strings.TrimSuffix(c.Request().URL.Path, "/links") + "/board"
	signed := board + "?" + signedParam + "=" + sign.Sign(board, until)
	return c.JSON(http.StatusOK, SharedLinks{ExpiresAt: until, Links: map[string]string{"board": signed, "board_page": boardPage + signed}})
}
