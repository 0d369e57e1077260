package view

import "knifedesk/jobs/share"

// OfShare is the digest of common loads: of a layout whose copies are all that lie on it.
func OfShare(s *share.Share) Digest {
	d := OfLayout(&s.Layout)
	d.Layout.Copies = 0
	for _, l := range s.Loads {
		d.Layout.Copies += len(l.Places)
	}
	return d
}
