package svg

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"regexp"
	"unicode/utf8"

	"knifedesk/geometry/budget"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/htmlindex"
	"golang.org/x/text/encoding/unicode"
)

const gzipMagic = "\x1f\x8b"

// unpack reads all of r, through gzip where the data is packed.
func unpack(b *budget.Budget, r io.Reader, limits Limits) ([]byte, error) {
	data, err := readUpTo(b, r, limitBytes, limits.Bytes)
	if err != nil {
		return nil, err
	}
	if !bytes.HasPrefix(data, []byte(gzipMagic)) {
		return data, nil
	}
	z, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		return nil, &ParseError{Err: fmt.Errorf("%w: %w", ErrCompressed, err)}
	}
	data, err = readUpTo(b, z, limitUnpacked, limits.Unpacked)
	if _, over := err.(*limitError); err != nil && !over {
		return nil, &ParseError{Err: fmt.Errorf("%w: %w", ErrCompressed, err)}
	}
	return data, err
}

func readUpTo(b *budget.Budget, r io.Reader, name string, limit int) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(budget.Reader(b, r), int64(limit)+1))
	if err != nil {
		return nil, err
	}
	if len(data) > limit {
		return nil, &limitError{name, limit}
	}
	return data, nil
}

var xmlEncoding = regexp.MustCompile(`^\s*<\?xml[^>]*?\sencoding\s*=\s*["']([A-Za-z][A-Za-z0-9._:-]*)["']`)

// toUTF8 turns XML text into UTF-8 by its byte order mark or its declaration
// (XML 1.0, appendix F). Text that is no UTF-8 and declares nothing else is
// taken for windows-1252, which guessed reports.
func toUTF8(b *budget.Budget, data []byte) (text []byte, guessed bool, err error) {
	enc := marked(data)
	if enc == nil {
		if m := xmlEncoding.FindSubmatch(data[:min(len(data), 1024)]); m != nil {
			if enc, err = htmlindex.Get(string(m[1])); err != nil {
				return nil, false, &ParseError{Line: 1, Err: fmt.Errorf("%w: encoding %q", ErrUnsupported, m[1])}
			}
			switch name, _ := htmlindex.Name(enc); name {
			case "utf-8", "utf-16le", "utf-16be":
				enc = nil // a readable declaration without a mark cannot be in UTF-16
			}
		}
	}
	if enc == nil {
		data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
		if utf8.Valid(data) {
			return data, false, nil
		}
		enc, guessed = charmap.Windows1252, true
	}
	text, err = io.ReadAll(enc.NewDecoder().Reader(budget.Reader(b, bytes.NewReader(data))))
	if err != nil {
		return nil, guessed, &ParseError{Err: fmt.Errorf("%w: %w", ErrEncoding, err)}
	}
	return text, guessed, nil
}

// marked returns the encoding that the first bytes give away, nil for none.
func marked(data []byte) encoding.Encoding {
	switch {
	case bytes.HasPrefix(data, []byte("\xff\xfe")), bytes.HasPrefix(data, []byte("<\x00")):
		return unicode.UTF16(unicode.LittleEndian, unicode.UseBOM)
	case bytes.HasPrefix(data, []byte("\xfe\xff")), bytes.HasPrefix(data, []byte("\x00<")):
		return unicode.UTF16(unicode.BigEndian, unicode.UseBOM)
	}
	return nil
}

var svgTag = regexp.MustCompile(`^(?:[^<]|<\?[^>]*>|<!--(?s:.*?)-->|<![A-Z](?:[^>\[]|\[[^\]]*\])*>)*<(?:[A-Za-z_][\w.-]*:)?svg[\s>/]`)

// Sniff reports whether head, the first kilobytes of a file, begins an SVG
// drawing: its outermost element is svg, in any encoding, packed or not.
func Sniff(head []byte) bool {
	if bytes.HasPrefix(head, []byte(gzipMagic)) {
		z, err := gzip.NewReader(bytes.NewReader(head))
		if err != nil {
			return false
		}
		head, _ = io.ReadAll(io.LimitReader(z, 4096)) // a cut-off head ends in an error
	}
	if enc := marked(head); enc != nil {
		head, _ = enc.NewDecoder().Bytes(head[:len(head)&^1])
	}
	return svgTag.Match(bytes.TrimPrefix(head, []byte("\xef\xbb\xbf")))
}
