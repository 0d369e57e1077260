package api

import (
	"encoding/base64"
	"strings"
	"time"

	"github.com/google/uuid"

	"knifedesk/db"
)

func writeCursor(p db.PlanCursor) string {
	return base64.RawURLEncoding.EncodeToString([]byte(p.Created.UTC().Format(time.RFC3339Nano) + " " + p.ID.String()))
}

func readCursor(text string) (db.PlanCursor, error) {
	bad := unprocessable("cursor", "invalid_cursor", "The cursor is not one that this list gave.", "Use next_cursor of the page before, or leave it out.")
	raw, err := base64.RawURLEncoding.DecodeString(text)
	if err != nil {
		return db.PlanCursor{}, bad
	}
	when, id, ok := strings.Cut(string(raw), " ")
	created, errTime := time.Parse(time.RFC3339Nano, when)
	plan, errID := uuid.Parse(id)
	if !ok || errTime != nil || errID != nil {
		return db.PlanCursor{}, bad
	}
	return db.PlanCursor{Created: created, ID: plan}, nil
}
