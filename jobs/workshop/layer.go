package workshop

import (
	"path"
	"strconv"
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

// OnFrameLayer is OnLayer for a rule by which lines are the frame: behind the name
// may stand the frame's size, as in PAGE_590x500.
func OnFrameLayer(pattern, layer string) bool {
	name, _, sized := FrameSize(layer)
	return OnLayer(pattern, layer) || sized && OnLayer(pattern, name)
}

// FrameSize takes the name of a layer apart that ends in a size in whole mm, as
// SizedLayer writes it, and reports whether it does. The size is two lengths with
// an x between them.
func FrameSize(layer string) (name, size string, ok bool) {
	at := strings.LastIndexAny(layer, "_ ")
	if at < 1 {
		return "", "", false
	}
	name, size = layer[:at], strings.ToLower(layer[at+1:])
	a, b, two := strings.Cut(size, "x")
	return name, size, two && wholeMM(a) && wholeMM(b)
}

func wholeMM(text string) bool {
	n, err := strconv.ParseUint(text, 10, 16)
	return err == nil && n > 0 && text[0] != '+'
}

// SizedLayer is the name of a frame's layer that says how large the frame is.
func SizedLayer(name string, widthMM, lengthMM int) string {
	return name + "_" + strconv.Itoa(widthMM) + "x" + strconv.Itoa(lengthMM)
}
