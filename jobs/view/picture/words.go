package picture

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"knifedesk/geometry"
	"knifedesk/geometry/figure"
	"knifedesk/geometry/number"
)

// sizeText writes a width and a height.
func sizeText(w, h float64) string {
	return fmt.Sprintf("%s × %s mm", figure.Number(w), figure.Number(h))
}

// kept writes the size of what is left over in whole mm, which are there in full.
func kept(b geometry.Box) string {
	return sizeText(math.Floor(b.Width()+1e-6), math.Floor(b.Height()+1e-6))
}

// cutOff is how much is cut off a roll: nobody measures tenths, so it is rounded up.
func cutOff(mm float64) float64 { return math.Ceil(mm - 1e-6) }

// count writes a number with its noun.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// total writes a length in whole mm, or in m from ten metres on.
func total(mm float64) string {
	if mm >= 10_000 && !math.IsInf(mm, 0) {
		return number.Fixed(mm/1000, 1) + " m"
	}
	return figure.Number(math.Round(mm)) + " mm"
}

// duration writes seconds as a person reads them.
func duration(s float64) string {
	if s < 100 {
		return number.Fixed(s, 0) + " s"
	}
	return number.Fixed(s/60, 1) + " min"
}

// numbers writes ascending numbers with runs joined: "1 to 4, 7, 9".
func numbers(list []int) string {
	var parts []string
	for i := 0; i < len(list); {
		j := i
		for j+1 < len(list) && list[j+1] == list[j]+1 {
			j++
		}
		switch {
		case j == i:
			parts = append(parts, strconv.Itoa(list[i]))
		case j == i+1:
			parts = append(parts, strconv.Itoa(list[i]), strconv.Itoa(list[j]))
		default:
			parts = append(parts, number.Through(list[i], list[j]))
		}
		i = j + 1
	}
	return strings.Join(parts, ", ")
}

// letter returns A for 0, B for 1, …, AA for 26.
func letter(i int) string {
	if i < 26 {
		return string(rune('A' + i))
	}
	return letter(i/26-1) + letter(i%26)
}
