package pdf

import "math"

// The operators of a calculator function on numbers (7.10.5.1).

func truth(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// unary carries out an operator on one number; ok is false for any other.
func unary(w string, a float64) (v float64, ok bool) {
	switch w {
	case "abs":
		return math.Abs(a), true
	case "neg":
		return -a, true
	case "ceiling":
		return math.Ceil(a), true
	case "floor":
		return math.Floor(a), true
	case "round":
		return math.Floor(a + 0.5), true
	case "truncate", "cvi":
		return math.Trunc(a), true
	case "cvr":
		return a, true
	case "sqrt":
		return math.Sqrt(a), true
	case "ln":
		return math.Log(a), true
	case "log":
		return math.Log10(a), true
	case "sin":
		return math.Sin(a * math.Pi / 180), true
	case "cos":
		return math.Cos(a * math.Pi / 180), true
	case "not":
		return truth(a == 0), true
	}
	return 0, false
}

// binary carries out an operator on two numbers; ok is false for any other.
func binary(w string, a, b float64) (v float64, ok bool) {
	switch w {
	case "add":
		return a + b, true
	case "sub":
		return a - b, true
	case "mul":
		return a * b, true
	case "div":
		return a / b, true
	case "idiv":
		return math.Trunc(a / b), true
	case "mod":
		return math.Mod(a, b), true
	case "exp":
		return math.Pow(a, b), true
	case "atan":
		return math.Mod(math.Atan2(a, b)*180/math.Pi+360, 360), true
	}
	if v, ok := compare(w, a, b); ok {
		return v, true
	}
	return bitwise(w, a, b)
}

func compare(w string, a, b float64) (v float64, ok bool) {
	switch w {
	case "eq":
		return truth(a == b), true
	case "ne":
		return truth(a != b), true
	case "gt":
		return truth(a > b), true
	case "ge":
		return truth(a >= b), true
	case "lt":
		return truth(a < b), true
	case "le":
		return truth(a <= b), true
	}
	return 0, false
}

func bitwise(w string, a, b float64) (v float64, ok bool) {
	switch w {
	case "and":
		return float64(int64(a) & int64(b)), true
	case "or":
		return float64(int64(a) | int64(b)), true
	case "xor":
		return float64(int64(a) ^ int64(b)), true
	case "bitshift":
		if b < 0 {
			return float64(int64(a) >> uint(math.Min(63, -b))), true
		}
		return float64(int64(a) << uint(math.Min(63, b))), true
	}
	return 0, false
}
