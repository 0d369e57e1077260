package plan

import "golang.org/x/text/unicode/norm"

// Reference returns a name by which callers know a plan, a set or a person as it is kept
// and looked for: in one form of Unicode (NFC). On some computers the name of a file has
// its accents apart from the letters, while whoever types the roster has them as one; to
// people both are the same name.
func Reference(name string) string { return norm.NFC.String(name) }
