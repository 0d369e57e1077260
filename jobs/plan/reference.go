package plan

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// Reference returns a name by which callers know a plan, a set or a person as it is kept
// and looked for: in one form of Unicode (NFC). On some computers the name of a file has
// its accents apart from the letters, while whoever types the roster has them as one; to
// people both are the same name.
func Reference(name string) string { return norm.NFC.String(name) }

// Member returns the name of one of a class set as it is kept and looked for: a Reference
// without what nobody can see. Spaces at the ends, soft hyphens, spaces of no width and
// marks of the direction of writing come along when a name is copied from a page or a list,
// and two that differ by these alone are one person to whoever reads them. What joins or
// parts letters (U+200C, U+200D) is part of the spelling of some languages, and stays.
func Member(name string) string {
	return strings.TrimSpace(Reference(strings.Map(func(r rune) rune {
		switch {
		case unicode.Is(unicode.Zs, r):
			return ' '
		case r == '\u200c' || r == '\u200d' || !unseen(r):
			return r
		}
		return -1
	}, name)))
}

// unseen are the soft hyphen, the marks U+200B to U+200F, those of embedding U+202A to
// U+202E, U+2060 to U+206F, U+061C and U+FEFF (The Unicode Standard, 23.2 to 23.3).
func unseen(r rune) bool {
	return r == '\u00ad' || r == '\u061c' || r == '\ufeff' || r >= '\u200b' && r <= '\u200f' || r >= '\u202a' && r <= '\u202e' || r >= '\u2060' && r <= '\u206f'
}
