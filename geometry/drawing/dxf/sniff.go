package dxf

import "bytes"

// The first 22 bytes of a binary file, without the maker's name that begins
// them.
const binaryMark = " Binary DXF\r\n\x1a\x00"

const (
	binaryMarkAt = 7
	binaryHead   = 22
)

func isBinary(head []byte) bool {
	return len(head) >= binaryHead && string(head[binaryMarkAt:binaryHead]) == binaryMark
}

// isCompiled reports the compiled sibling of DXF: six bytes such as AC1015
// and then no line end.
func isCompiled(head []byte) bool {
	return len(head) > 6 && bytes.HasPrefix(head, []byte("AC")) && head[6] == 0
}

// Sniff reports whether a file that begins with head looks like DXF. The first
// kilobyte is plenty; comments at the top may need more.
func Sniff(head []byte) bool {
	if isBinary(head) {
		return true
	}
	s := newTextScanner(bytes.NewReader(head), len(head)+1)
	var t tag
	return s.next(&t) && t.code == 0
}
