package finding

import "strings"

// Fill returns text with its placeholders filled from values: {name} becomes
// the value, {name:line|lines} the first word where the value reads "1" and
// the second otherwise; {name:none|one|many} has a word of its own for "0". A
// placeholder without a value, or with anything else between its braces, stays
// as it is.
func Fill(text string, values Values) string {
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
func placeholder(whole string, values Values) string {
	name, forms, choice := strings.Cut(whole[1:len(whole)-1], ":")
	v, ok := values[name]
	if !ok {
		return whole
	}
	filled := v.as(name)
	if !choice {
		return filled
	}
	words := strings.Split(forms, "|")
	switch {
	case len(words) == 3 && filled == "0":
		return words[0]
	case len(words) == 3:
		words = words[1:]
	case len(words) != 2:
		return whole
	}
	if filled == "1" {
		return words[0]
	}
	return words[1]
}
