package finding

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"strconv"
	"strings"

	"knifedesk/geometry/number"
)

// Values are what a finding or an answer says in numbers and names, by the
// names of the placeholders that they fill.
type Values map[string]Value

// Value is a number, a text or a truth. A whole number is a number without a
// fraction, as in JSON, so that a value read back equals the one written.
type Value struct {
	kind   kind
	number float64 // of a truth: 1 where it holds
	text   string
}

// kind tells what a Value is.
type kind uint8

const (
	isNumber kind = iota
	isText
	isTruth
)

// Int returns a whole number, exact up to 2⁵³.
func Int(n int) Value { return Value{number: float64(n)} }

// Num returns a number. One that is not finite cannot be written as JSON.
func Num(x float64) Value { return Value{number: x} }

// Text returns a text.
func Text(s string) Value { return Value{kind: isText, text: s} }

// Truth returns whether something holds.
func Truth(holds bool) Value {
	if holds {
		return Value{kind: isTruth, number: 1}
	}
	return Value{kind: isTruth}
}

// Int returns the whole number of that name, 0 where there is none.
func (v Values) Int(name string) int {
	if x := v.Num(name); x == math.Trunc(x) {
		return int(x)
	}
	return 0
}

// Num returns the number of that name, 0 where there is none.
func (v Values) Num(name string) float64 {
	if x := v[name]; x.kind == isNumber {
		return x.number
	}
	return 0
}

// Text returns the text of that name, "" where there is none.
func (v Values) Text(name string) string { return v[name].text }

// Equal reports whether v and w are the same.
func (v Value) Equal(w Value) bool { return v == w }

// String returns v as people read it, a number with the digits of number.People.
func (v Value) String() string { return v.written(number.People) }

// as is String for a placeholder of that name: what is least is rounded down,
// and what is most up, so that it stays true.
func (v Value) as(name string) string {
	switch {
	case strings.HasPrefix(name, "least_"):
		return v.written(number.PeopleDown)
	case strings.HasPrefix(name, "most_"), strings.HasPrefix(name, "widest_"):
		return v.written(number.PeopleUp)
	}
	return v.String()
}

func (v Value) written(digits func(float64) string) string {
	switch v.kind {
	case isText:
		return v.text
	case isTruth:
		return strconv.FormatBool(v.number == 1)
	}
	return digits(v.number)
}

// MarshalJSON writes a number, a string or a boolean.
func (v Value) MarshalJSON() ([]byte, error) {
	switch v.kind {
	case isText:
		return json.Marshal(v.text)
	case isTruth:
		return json.Marshal(v.number == 1)
	}
	return json.Marshal(v.number)
}

// UnmarshalJSON reads what MarshalJSON wrote; anything else is an error.
func (v *Value) UnmarshalJSON(data []byte) error {
	data = bytes.TrimSpace(data)
	switch {
	case bytes.HasPrefix(data, []byte(`"`)):
		*v = Text("")
		return json.Unmarshal(data, &v.text)
	case bytes.Equal(data, []byte("true")), bytes.Equal(data, []byte("false")):
		*v = Truth(data[0] == 't')
		return nil
	case bytes.Equal(data, []byte("null")):
		return errors.New("finding: null is no value")
	}
	*v = Num(0)
	return json.Unmarshal(data, &v.number)
}
