package pdf

import (
	"bytes"
	"regexp"

	"knifedesk/geometry/budget"
)

// filterEntry finds the first filter of a stream; a name may have any form, and
// is longer than any known one at 32 characters.
var filterEntry = regexp.MustCompile(`/Filter\s{0,16}\[?\s{0,16}/([^\s/\[\]<>()%]{0,32})`)

// standard reports whether a filter is one of the format (7.4), by its long or
// short name.
func standard(filter string) bool {
	switch filter {
	case "ASCIIHexDecode", "ASCII85Decode", "LZWDecode", "FlateDecode", "RunLengthDecode", "CCITTFaxDecode", "JBIG2Decode",
		"DCTDecode", "JPXDecode", "Crypt", "AHx", "A85", "LZW", "Fl", "RL", "CCF", "DCT":
		return true
	}
	return false
}

// withoutStrangeFilters takes filters out of a file that nobody knows, so that
// their streams stay packed but the rest can be read. Nothing is moved.
func withoutStrangeFilters(b *budget.Budget, data []byte) []byte {
	out := bytes.Clone(data)
	for rest := out; ; {
		at := filterEntry.FindSubmatchIndex(rest)
		if at == nil {
			return out
		}
		b.Spend(1 + at[1]/perStep)
		if !standard(string(rest[at[2]:at[3]])) {
			copy(rest[at[0]:], "/Fil___")
		}
		rest = rest[at[1]:]
	}
}
