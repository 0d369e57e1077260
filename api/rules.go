package api

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"

	"knifedesk/jobs/finding"
)

// refusedBySchema words which rule of a schema a value breaks and what it takes
// instead. It names fields but repeats no values that the client sent.
func refusedBySchema(within, code string, se *openapi3.SchemaError) error {
	field := within
	for _, step := range se.JSONPointer() {
		field = strings.Trim(field+"."+shown(step), ".")
	}
	detail, change := ruleText(se)
	return unprocessable(field, code, detail, change)
}

// ruleText says what is wrong and what to write.
func ruleText(se *openapi3.SchemaError) (detail, change string) {
	s := se.Schema
	switch se.SchemaField {
	case "required":
		return "A required field is missing: " + quoted(se.Reason) + ".", "Add it."
	case "enum":
		var names []string
		for _, v := range s.Enum {
			names = append(names, fmt.Sprint(v))
		}
		return "The value is not one that is taken here.", "Write one of: " + strings.Join(names, ", ") + "."
	case "additionalProperties", "properties":
		return "There is a field that this request does not have: " + quoted(se.Reason) + ".", "The fields are: " + strings.Join(slices.Sorted(maps.Keys(s.Properties)), ", ") + "."
	case "type", "nullable":
		return "The value has the wrong type.", "Write " + typeText(s) + "."
	case "format":
		return "The value does not have the form " + s.Format + ".", "See /docs/reference for what this field takes."
	case "pattern":
		return "The text has a form that is not taken here.", "Write " + patternText(s) + "."
	}
	if text := boundText(se.SchemaField, s); text != "" {
		return "The value is out of the range that is taken here.", text
	}
	return "The value is not one that is taken here.", "See /docs/reference for what this field takes."
}

// boundText words the bound that a value lies outside of.
func boundText(rule string, s *openapi3.Schema) string {
	switch {
	case rule == "minimum" && s.Min != nil:
		return fmt.Sprintf("Write %g or more.", *s.Min)
	case rule == "maximum" && s.Max != nil:
		return fmt.Sprintf("Write %.15g or less.", *s.Max)
	case strings.HasPrefix(rule, "exclusiveM"):
		return "Write a number above 0."
	case rule == "minLength":
		return finding.Fill("Write at least {n} {n:character|characters}.", finding.Values{"n": finding.Int(int(s.MinLength))})
	case rule == "maxLength" && s.MaxLength != nil:
		return fmt.Sprintf("Write at most %d characters.", *s.MaxLength)
	case rule == "maxItems" && s.MaxItems != nil:
		return fmt.Sprintf("Give at most %d.", *s.MaxItems)
	case rule == "maxProperties" && s.MaxProps != nil:
		return fmt.Sprintf("Give at most %d.", *s.MaxProps)
	case rule == "minProperties", rule == "minItems":
		return "Give at least one."
	}
	return ""
}

func typeText(s *openapi3.Schema) string {
	words := map[string]string{
		"object": "a JSON object", "array": "a list", "string": "a text in quotes", "integer": "a whole number without quotes",
		"number": "a number without quotes", "boolean": "true or false", "null": "null",
	}
	var kinds []string
	for _, kind := range s.Type.Slice() {
		kinds = append(kinds, words[kind])
	}
	return strings.Join(kinds, ", or ")
}

// forms are texts that patterns ask for, each with an example that is taken. The first
// whose example a pattern takes words it: names come first, as theirs takes most others.
var forms = []struct{ example, text string }{
	{"card-220-a4", "small letters, digits, dots, dashes and underscores, at most 63, such as card-220-a4"},
	{"card-220-a4.svg", "the stock's id with .svg or .dxf, such as card-220-a4.svg"},
	{"load-1.dxf", "load-1.dxf, load-1.svg or load-1.plt, with the number of the load; load-1-pass-2.dxf for one pass alone; load-1.json or load-1.txt for the list of its passes"},
	{"load-1.json", "load-1.json, with the number of the load"},
	{"sheet.pdf", "sheet.json, sheet.pdf, picture.svg, cut.dxf, cut.svg or cut.plt"},
	{"worksheet.pdf", "layout, weeding or passes with .svg or .png, worksheet.pdf, cut.dxf, cut.svg, cut.plt or passes.txt"},
	{"#007c91", "a colour such as #007c91"},
	{"2026-09-30", "a day as year, month and day, such as 2026-09-30"},
	{"0.25", `a decimal number in quotes, such as "0.25"`},
}

func patternText(s *openapi3.Schema) string {
	if s.Format == "uuid" {
		return "an id such as 0d6ee87a-7b52-4f57-8f51-3a4bd1a1f7f5"
	}
	taken, err := regexp.Compile(s.Pattern)
	if err != nil {
		return "it as /docs shows it"
	}
	if taken.MatchString("any words") {
		return "it on one line, without tabs and other signs that cannot be seen"
	}
	for _, f := range forms {
		if taken.MatchString(f.example) {
			return f.text
		}
	}
	return "it as /docs shows it"
}

// quoted returns the name that a reason of the validator has in quotes.
func quoted(reason string) string {
	_, after, ok := strings.Cut(reason, `"`)
	if !ok {
		return "see /docs"
	}
	name, _, _ := strings.Cut(after, `"`)
	return shown(name)
}
