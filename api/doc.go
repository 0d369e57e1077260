// Package api is the HTTP face of knifedesk: routes and checks generated from
// openapi.yaml, one file a resource. It enqueues and reads, and never computes
// a plan itself. Its types are those of the specification: show.go says how they
// are made of what the jobs compute.
package api
