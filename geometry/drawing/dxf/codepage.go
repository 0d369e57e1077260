package dxf

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/korean"
	"golang.org/x/text/encoding/simplifiedchinese"
	"golang.org/x/text/encoding/traditionalchinese"
)

// firstUTF8 is the version from which text is UTF-8 whatever $DWGCODEPAGE says.
const firstUTF8 = "AC1021"

// codePages returns the encodings by $DWGCODEPAGE, in lower case without its
// ansi_ or dos.
func codePages() map[string]encoding.Encoding {
	return map[string]encoding.Encoding{
		"437": charmap.CodePage437, "850": charmap.CodePage850, "852": charmap.CodePage852,
		"855": charmap.CodePage855, "858": charmap.CodePage858, "860": charmap.CodePage860,
		"862": charmap.CodePage862, "863": charmap.CodePage863, "865": charmap.CodePage865,
		"866": charmap.CodePage866, "874": charmap.Windows874,
		"1250": charmap.Windows1250, "1251": charmap.Windows1251, "1252": charmap.Windows1252,
		"1253": charmap.Windows1253, "1254": charmap.Windows1254, "1255": charmap.Windows1255,
		"1256": charmap.Windows1256, "1257": charmap.Windows1257, "1258": charmap.Windows1258,
		"932": japanese.ShiftJIS, "936": simplifiedchinese.GBK, "949": korean.EUCKR,
		"950": traditionalchinese.Big5, "gb2312": simplifiedchinese.GBK, "big5": traditionalchinese.Big5,
		"ksc5601": korean.EUCKR, "mac-roman": charmap.Macintosh,
		"iso8859-1": charmap.ISO8859_1, "iso8859-2": charmap.ISO8859_2, "iso8859-3": charmap.ISO8859_3,
		"iso8859-4": charmap.ISO8859_4, "iso8859-5": charmap.ISO8859_5, "iso8859-6": charmap.ISO8859_6,
		"iso8859-7": charmap.ISO8859_7, "iso8859-8": charmap.ISO8859_8, "iso8859-9": charmap.Windows1254,
	}
}

// text decodes names and texts. The zero text is that of a file that names no
// code page.
type text struct {
	page    encoding.Encoding
	utf8    bool
	guessed bool // UTF-8 was found in a file that declares one byte a letter
}

// declare sets the encoding from the header.
func (x *text) declare(version, page string) {
	x.utf8 = version >= firstUTF8
	name := strings.ToLower(strings.TrimSpace(page))
	name = strings.TrimPrefix(strings.TrimPrefix(name, "ansi_"), "dos")
	x.page = codePages()[name]
}

// decode returns raw as a string. Text that is UTF-8 beyond ASCII is taken as
// such also where the header names a page of single bytes: such a page gives
// valid UTF-8 practically never by chance.
func (x *text) decode(raw []byte) string {
	s := string(raw)
	if ascii(raw) {
		return unescape(s, x)
	}
	_, single := x.page.(*charmap.Charmap)
	switch {
	case x.utf8:
		return unescape(strings.ToValidUTF8(s, "\ufffd"), x)
	case (x.page == nil || single) && utf8.Valid(raw):
		x.guessed = true
		return unescape(s, x)
	}
	page := x.page
	if page == nil {
		page = charmap.Windows1252
	}
	if d, err := page.NewDecoder().String(s); err == nil {
		s = d
	}
	return unescape(strings.ToValidUTF8(s, "\ufffd"), x)
}

func ascii(b []byte) bool {
	for _, c := range b {
		if c >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// unescape replaces \U+XXXX by the character, and \M+nXXXX by the two bytes of
// the n-th double-byte page (1 Japanese, 2 traditional Chinese, 3 and 4 Korean,
// 5 simplified Chinese).
func unescape(s string, x *text) string {
	if !strings.Contains(s, `\U+`) && !strings.Contains(s, `\M+`) {
		return s
	}
	var b strings.Builder
	for i := 0; i < len(s); {
		r, n := escape(s[i:])
		if n == 0 {
			b.WriteByte(s[i])
			i++
			continue
		}
		b.WriteString(r)
		i += n
	}
	return b.String()
}

// escape returns the text of the escape that s begins with and its length, 0
// for none.
func escape(s string) (string, int) {
	if len(s) >= 7 && s[:3] == `\U+` {
		if v, err := strconv.ParseUint(s[3:7], 16, 16); err == nil {
			return string(rune(v)), 7
		}
	}
	if len(s) >= 8 && s[:3] == `\M+` {
		pages := map[byte]encoding.Encoding{'1': japanese.ShiftJIS, '2': traditionalchinese.Big5,
			'3': korean.EUCKR, '4': korean.EUCKR, '5': simplifiedchinese.GBK}
		v, err := strconv.ParseUint(s[4:8], 16, 16)
		if page := pages[s[3]]; err == nil && page != nil {
			if d, err := page.NewDecoder().String(string([]byte{byte(v >> 8), byte(v)})); err == nil {
				return d, 8
			}
		}
	}
	return "", 0
}
