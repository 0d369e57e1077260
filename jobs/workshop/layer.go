package workshop

import (
	"path"
	"strings"
)

// OnLayer reports whether a layer's name matches the pattern of a rule: case is
// ignored, and * and ? stand for any characters and any one, as in path.Match.
// A malformed pattern, such as a lone bracket, stands for itself: layers may
// be named so.
func OnLayer(pattern, layer string) bool {
	pattern, layer = strings.ToLower(pattern), strings.ToLower(layer)
	ok, err := path.Match(pattern, layer)
	return ok || err != nil && pattern == layer
}
