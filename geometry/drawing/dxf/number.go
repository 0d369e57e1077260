package dxf

import (
	"bytes"
	"math"
	"strconv"
)

// numeral says how a number was written.
type numeral uint8

const (
	plain numeral = iota
	comma         // with a decimal comma, which the format does not have
	bad           // not a number, or beyond maxNumber
)

// maxNumber bounds coordinates: squares and products of such numbers stay
// finite, and no drawing is a light-minute wide.
const maxNumber = 1e13

func judge(v float64) numeral {
	if math.Abs(v) <= maxNumber { // false for NaN
		return plain
	}
	return bad
}

// exactPower is the highest power of ten that a float64 holds exactly.
const exactPower = 22

// parseFloat reads a decimal number. Where the digits fit in 53 bits and the
// places in a power of ten that is exact, one division rounds correctly
// (Clinger 1990); everything else goes to strconv.
func parseFloat(raw []byte) (float64, numeral) {
	i, negative := 0, false
	if len(raw) > 0 && (raw[0] == '-' || raw[0] == '+') {
		negative = raw[0] == '-'
		i = 1
	}
	m, digits := uint64(0), i
	for i < len(raw) && raw[i]-'0' <= 9 {
		m = m*10 + uint64(raw[i]-'0')
		i++
	}
	digits = i - digits
	places := 0
	if i < len(raw) && raw[i] == '.' {
		i++
		places = i
		for i < len(raw) && raw[i]-'0' <= 9 {
			m = m*10 + uint64(raw[i]-'0')
			i++
		}
		places = i - places
		digits += places
	}
	if i != len(raw) || digits == 0 || digits > 19 || m >= 1<<53 || places > exactPower {
		return parseSlow(raw)
	}
	v := float64(m)
	if places > 0 {
		v /= math.Pow10(places)
	}
	if negative {
		v = -v
	}
	return v, judge(v)
}

func parseSlow(raw []byte) (float64, numeral) {
	how := plain
	if i := bytes.IndexByte(raw, ','); i >= 0 && bytes.IndexByte(raw, '.') < 0 {
		raw = bytes.Clone(raw)
		raw[i] = '.'
		how = comma
	}
	for _, c := range raw { // strconv also takes 0x, inf, nan and underscores
		if (c < '0' || c > '9') && c != '.' && c != '-' && c != '+' && c|0x20 != 'e' {
			return 0, bad
		}
	}
	v, err := strconv.ParseFloat(string(raw), 64)
	if err != nil || judge(v) == bad {
		return 0, bad
	}
	return v, how
}
