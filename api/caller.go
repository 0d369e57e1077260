package api

import (
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"knifedesk/api/access"
	"knifedesk/db"
)

// means is how a caller says who it is.
type means string

// The means, by the names that the specification has for them. Nobody has said
// nothing, and local need not: it calls from this machine.
const (
	nobody       means = ""
	local        means = "local"
	byKey        means = "key"
	byToken      means = "token"
	byCapability means = "capability"
	byLink       means = "link"
)

// localOwner is the client of those who call from this machine without a key.
const localOwner = "local"

// caller is who sent a request.
type caller struct {
	means     means
	owner     string        // the client whose things it makes
	id        uuid.UUID     // of its key or token
	scopes    access.Scopes // of a key
	drawing   uuid.UUID     // that a capability is bound to
	until     time.Time     // how long that is, or would be
	defaults  db.Defaults   // what a course decided for its plans
	perMinute int           // requests that its key allows; 0: the service's number
}

// callerName is the name under which the context of a request holds its caller.
const callerName = "caller"

func callerOf(c echo.Context) caller {
	who, _ := c.Get(callerName).(caller)
	return who
}

// clientOf names whose things a request may see: those of one client, or of all.
func clientOf(c echo.Context) string {
	who := callerOf(c)
	if who.means == byLink || who.scopes.Allow(string(access.Manage)) {
		return db.AnyClient
	}
	return who.owner
}

// ownerOf names the client whose things a request makes.
func ownerOf(c echo.Context) string { return callerOf(c).owner }

// claimantOf names whom the keys of repeated requests belong to: a client, or
// one browser of many.
func claimantOf(c echo.Context) string {
	who := callerOf(c)
	switch who.means {
	case byToken, byCapability:
		return "token:" + who.id.String()
	case byLink:
		return "link:" + c.Request().URL.Path
	}
	return who.owner
}
