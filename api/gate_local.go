package api

import (
	"net/http"
	"net/url"

	"knifedesk/api/access"
)

// localCaller is who calls from this machine without a key. A page from
// elsewhere that runs in a browser here is not: it is known by the name that it
// calls this service by, or by its origin.
func localCaller(r *http.Request) (caller, error) {
	if !namesLoopback(r.Host) {
		return caller{}, &failure{status: http.StatusMisdirectedRequest, code: "wrong_host", detail: "This service answers for its own address only.", change: "Use the address that the service printed when it started."}
	}
	if crossOrigin(r) {
		return caller{}, &failure{status: http.StatusForbidden, code: "wrong_origin", detail: "The request comes from a page of another site.", change: "Use the page of this service, or a key or token."}
	}
	return caller{means: local, owner: localOwner, scopes: access.Scopes{access.Manage}}, nil
}

// crossOrigin says whether a browser sent the request for a page of another
// origin (Fetch Metadata, and RFC 6454).
func crossOrigin(r *http.Request) bool {
	if http.NewCrossOriginProtection().Check(r) != nil {
		return true
	}
	origin := r.Header.Get("Origin")
	if origin == "" {
		return false
	}
	from, err := url.Parse(origin)
	return err != nil || from.Host != r.Host
}

// forwarded says whether a proxy has passed the request on, which then comes
// from anywhere.
func forwarded(r *http.Request) bool {
	for _, name := range []string{"Forwarded", "X-Forwarded-For", "X-Real-Ip", "Via"} {
		if r.Header.Get(name) != "" {
			return true
		}
	}
	return false
}
