package pdf

import (
	"math"
	"strconv"

	"knifedesk/geometry/budget"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// calculated runs a PostScript calculator function (7.10.5).
func (c converter) calculated(o types.Object, in []float64) []float64 {
	_, data, err := c.stream(o)
	if err != nil {
		return nil
	}
	words := splitWords(c.b, string(data), maxSteps)
	k := calculator{b: c.b, words: words, stack: append([]float64{}, in...), steps: &c.steps}
	if c.steps += len(words); len(words) == 0 || len(words) > maxSteps || words[0] != "{" || !k.block(0, k.end(0)) {
		return nil
	}
	return k.stack
}

// splitWords splits a calculator function at spaces; a brace is a word. Beyond
// most words it stops: so many are never run.
func splitWords(b *budget.Budget, text string, most int) []string {
	var words []string
	start := 0
	for i := 0; i < len(text) && len(words) <= most; i++ {
		if i%perStep == 0 {
			b.Step()
		}
		c := text[i]
		brace := c == '{' || c == '}'
		if space := c == ' ' || c >= '\t' && c <= '\r'; !brace && !space {
			continue
		}
		if start < i {
			words = append(words, text[start:i])
		}
		if brace {
			words = append(words, text[i:i+1])
		}
		start = i + 1
	}
	if start < len(text) {
		words = append(words, text[start:])
	}
	return words
}

// calculator is a stack machine. Booleans are 0 and 1.
type calculator struct {
	b     *budget.Budget
	words []string
	stack []float64
	steps *int
}

// end returns the place of the brace that closes the one at i.
func (k *calculator) end(i int) int {
	depth := 0
	for ; i < len(k.words); i++ {
		switch k.words[i] {
		case "{":
			depth++
		case "}":
			if depth--; depth == 0 {
				return i
			}
		}
	}
	return len(k.words)
}

// block runs the words between the braces at from and to.
func (k *calculator) block(from, to int) bool {
	var blocks [][2]int
	for i := from + 1; i < to; i++ {
		const deepest = 100
		k.b.Step()
		if *k.steps++; *k.steps > maxSteps || len(k.stack) > deepest {
			return false
		}
		w := k.words[i]
		switch w {
		case "{":
			end := k.end(i)
			*k.steps += end - i
			k.b.Spend(end - i)
			blocks = append(blocks, [2]int{i, end})
			i = end
		case "if", "ifelse":
			n := 1 + len(w)/6 // two blocks for ifelse
			if len(blocks) < n || len(k.stack) == 0 {
				return false
			}
			chosen := blocks[len(blocks)-n:]
			yes := k.pop() != 0
			blocks = nil
			switch {
			case yes && !k.block(chosen[0][0], chosen[0][1]):
				return false
			case !yes && n == 2 && !k.block(chosen[1][0], chosen[1][1]):
				return false
			}
		default:
			if !k.word(w) {
				return false
			}
		}
	}
	return true
}

func (k *calculator) pop() float64 {
	v := k.stack[len(k.stack)-1]
	k.stack = k.stack[:len(k.stack)-1]
	return v
}

func (k *calculator) push(v float64) bool {
	k.stack = append(k.stack, v)
	return !math.IsNaN(v)
}

// word carries out one operator or pushes a number.
func (k *calculator) word(w string) bool {
	if v, err := strconv.ParseFloat(w, 64); err == nil {
		return k.push(v)
	}
	n := len(k.stack)
	if n >= 1 {
		if v, ok := unary(w, k.stack[n-1]); ok {
			k.stack[n-1] = v
			return !math.IsNaN(v)
		}
	}
	if n >= 2 {
		if v, ok := binary(w, k.stack[n-2], k.stack[n-1]); ok {
			k.pop()
			k.stack[n-2] = v
			return !math.IsNaN(v)
		}
	}
	return k.shuffle(w)
}

// shuffle carries out the operators that only move what is on the stack.
func (k *calculator) shuffle(w string) bool {
	n := len(k.stack)
	switch {
	case w == "true":
		return k.push(1)
	case w == "false":
		return k.push(0)
	case n == 0:
		return false
	case w == "pop":
		k.pop()
		return true
	case w == "dup":
		return k.push(k.stack[n-1])
	case w == "exch" && n >= 2:
		k.stack[n-1], k.stack[n-2] = k.stack[n-2], k.stack[n-1]
		return true
	case w == "copy":
		if m := int(k.pop()); m >= 0 && m < n {
			k.stack = append(k.stack, k.stack[n-1-m:]...)
			return true
		}
	case w == "index":
		if m := int(k.pop()); m >= 0 && m < n-1 {
			return k.push(k.stack[n-2-m])
		}
	case w == "roll" && n >= 2:
		j, m := int(k.pop()), int(k.pop())
		return k.roll(m, j)
	}
	return false
}

// roll turns the top m values by j places.
func (k *calculator) roll(m, j int) bool {
	if m < 0 || m > len(k.stack) {
		return false
	}
	if m == 0 {
		return true
	}
	top := k.stack[len(k.stack)-m:]
	j = (j%m + m) % m
	turned := append(append([]float64{}, top[m-j:]...), top[:m-j]...)
	copy(top, turned)
	return true
}
