package api

import (
	"cmp"
	"encoding/base64"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"knifedesk/db"
)

func writeCursor(p db.Cursor) string {
	return base64.RawURLEncoding.EncodeToString([]byte(p.Created.UTC().Format(time.RFC3339Nano) + " " + p.ID.String()))
}

func readCursor(text string) (db.Cursor, error) {
	raw, err := base64.RawURLEncoding.DecodeString(text)
	if err != nil {
		return db.Cursor{}, badCursor()
	}
	when, id, ok := strings.Cut(string(raw), " ")
	created, errTime := time.Parse(time.RFC3339Nano, when)
	named, errID := uuid.Parse(id)
	if !ok || errTime != nil || errID != nil {
		return db.Cursor{}, badCursor()
	}
	return db.Cursor{Created: created, ID: named}, nil
}

func badCursor() error {
	return unprocessable("cursor", "invalid_cursor", "The cursor is not one that this list gave.", "Use next_cursor of the page before, or leave it out.")
}

// readBefore reads the cursor of a list by time; nil is its beginning.
func readBefore(text string) (*db.Cursor, error) {
	if text == "" {
		return nil, nil
	}
	at, err := readCursor(text)
	return &at, err
}

// turn is which page of a list is wanted. A limit of 0 is mostListed.
type turn struct {
	limit  int
	cursor string
}

// mostListed is how many items a page has at most.
const mostListed = 1000

// turnOf returns the items of a list whose turn it is, and the cursor of the next page,
// empty where there is none. The cursor names the last item and its place: where that
// is gone by then, what followed it has moved up to its place.
func turnOf[T any](all []T, t turn, name func(T) string) (items []T, next string, err error) {
	limit := cmp.Or(t.limit, mostListed)
	begin := 0
	if t.cursor != "" {
		at, last, err := readPlace(t.cursor)
		if err != nil {
			return nil, "", err
		}
		begin = min(at, len(all))
		if found := slices.IndexFunc(all, func(x T) bool { return name(x) == last }); found >= 0 {
			begin = found + 1
		}
	}
	items = all[begin:]
	if len(items) > limit {
		items = items[:limit]
		next = writePlace(begin+limit-1, name(items[limit-1]))
	}
	return items, next, nil
}

func writePlace(at int, name string) string {
	return base64.RawURLEncoding.EncodeToString([]byte(strconv.Itoa(at) + " " + name))
}

func readPlace(text string) (at int, name string, err error) {
	raw, err := base64.RawURLEncoding.DecodeString(text)
	number, name, ok := strings.Cut(string(raw), " ")
	at, errNumber := strconv.Atoi(number)
	if err != nil || !ok || errNumber != nil || at < 0 {
		return 0, "", badCursor()
	}
	return at, name, nil
}

// sendPage answers a read with one page of a list, under the name of the list.
func sendPage[T, A any](c echo.Context, list string, all []T, t turn, name func(T) string, show func(T) A) error {
	items, next, err := turnOf(all, t, name)
	if err != nil {
		return err
	}
	out := map[string]any{list: each(items, show)}
	if next != "" {
		out["next_cursor"] = next
	}
	return sendJSON(c, out)
}

// usual is how many items a page of a list by time has where nobody says.
const usual = 20

// sendNewest answers a read with one page of a list by time, the newest first, under
// the name of the list. rows are one more than limit where there is a next page.
func sendNewest[T, A any](c echo.Context, list string, rows []T, limit int, show func(T) A, at func(T) db.Cursor) error {
	out := map[string]any{list: each(rows[:min(len(rows), limit)], show)}
	if len(rows) > limit {
		out["next_cursor"] = writeCursor(at(rows[limit-1]))
	}
	return sendJSON(c, out)
}
