// Package api is the HTTP face of knifedesk: routes and checks generated from
// openapi.yaml, one file a resource. It enqueues and reads, and never computes
// a plan itself.
package api
