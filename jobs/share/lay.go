package share

import (
	"context"
	"errors"

	"knifedesk/jobs/layout"
	"knifedesk/jobs/weeding"
)

// Lay lays the copies of all members on common loads, each whole; maps are the weeding
// maps of the members, in the order of these.
//
// A member that fits on no sheet is a finding that names it, and the others go on. A
// request that makes no sense is a *layout.RequestError. Where ctx ends first, its error
// is returned.
func Lay(ctx context.Context, req Request, maps []*weeding.Map) (*Share, error) {
	if len(maps) != len(req.Members) {
		return nil, &layout.RequestError{Field: "members", Reason: "there is not one weeding map for each"}
	}
	return nil, errors.ErrUnsupported
}

// Whole is what the maps of all loads have in common, without lines or regions: what they
// are for, and whether they are cut mirrored.
func (s *Share) Whole() *weeding.Map {
	if len(s.Maps) == 0 {
		return &weeding.Map{Mirrored: s.Mirrored}
	}
	return &weeding.Map{Purpose: s.Maps[0].Purpose, Mirrored: s.Mirrored, Effort: s.Effort(weeding.Effort{})}
}
