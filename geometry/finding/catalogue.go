package finding

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
)

// entry is what the catalogue says of a code. Hints may hold {placeholders}
// that Values fills; {count} is always there.
type entry struct {
	severity   Severity
	hint       string // for the person who drew: what to change
	technician string // for the technician: what was measured, what to do
}

var catalogue = merge(fileEntries, readEntries, sizeEntries, artworkEntries, weedingEntries, layoutEntries)

func merge(parts ...map[Code]entry) map[Code]entry {
	all := map[Code]entry{}
	for _, part := range parts {
		for code, e := range part {
			if _, twice := all[code]; twice {
				panic("finding: code in the catalogue twice: " + string(code))
			}
			all[code] = e
		}
	}
	return all
}

// Codes returns every code of the catalogue, sorted.
func Codes() []Code { return slices.Sorted(maps.Keys(catalogue)) }

// Fill returns text with its {placeholders} filled from values. Floats are
// rounded to two decimals, or four significant digits below 0.1.
func Fill(text string, values map[string]any) string { return fill(text, values) }

func withCount(values map[string]any, count int) map[string]any {
	all := map[string]any{"count": count}
	maps.Copy(all, values)
	return all
}

func fill(text string, values map[string]any) string {
	if !strings.Contains(text, "{") {
		return text
	}
	var pairs []string
	for _, k := range slices.Sorted(maps.Keys(values)) {
		pairs = append(pairs, "{"+k+"}", format(values[k]))
	}
	return strings.NewReplacer(pairs...).Replace(text)
}

func format(v any) string {
	f, ok := v.(float64)
	if !ok {
		return fmt.Sprint(v)
	}
	if f > -0.1 && f < 0.1 && f != 0 {
		return strconv.FormatFloat(f, 'g', 4, 64)
	}
	return strings.TrimSuffix(strings.TrimRight(strconv.FormatFloat(f, 'f', 2, 64), "0"), ".")
}
