package finding

import (
	"fmt"
	"strings"

	"knifedesk/geometry/number"
)

// Fill returns text with its placeholders filled from values: {name} becomes
// the value, {name:line|lines} the first word where the value reads "1" and
// the second otherwise. A placeholder without a value, or with anything else
// between its braces, stays as it is. Floats are rounded to two decimals, or
// four significant digits below 0.1.
func Fill(text string, values map[string]any) string {
	var b strings.Builder
	for {
		open := strings.IndexByte(text, '{')
		if open < 0 {
			break
		}
		length := strings.IndexByte(text[open:], '}')
		if length < 0 {
			break
		}
		b.WriteString(text[:open])
		whole := text[open : open+length+1]
		b.WriteString(placeholder(whole, values))
		text = text[open+length+1:]
	}
	b.WriteString(text)
	return b.String()
}

// placeholder returns what stands for one {placeholder}.
func placeholder(whole string, values map[string]any) string {
	name, forms, choice := strings.Cut(whole[1:len(whole)-1], ":")
	v, ok := values[name]
	if !ok {
		return whole
	}
	filled := format(v)
	if !choice {
		return filled
	}
	one, many, ok := strings.Cut(forms, "|")
	switch {
	case !ok:
		return whole
	case filled == "1":
		return one
	}
	return many
}

func format(v any) string {
	f, ok := v.(float64)
	if !ok {
		return fmt.Sprint(v)
	}
	if f > -0.1 && f < 0.1 && f != 0 {
		return number.Significant(f, 4)
	}
	return number.Text(f, 2)
}
