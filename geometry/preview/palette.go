package preview

import "knifedesk/geometry/artwork"

// The inks keep their order of lightness for the common forms of colour
// blindness and in grey print; each is paired with a dash or a hatch.
const (
	ink       = "#1d2433"
	faint     = "#8b93a3"
	hair      = "#c9ced8"
	paper     = "#ffffff"
	keptTint  = "#cfe0e6"
	keptInk   = "#1f5f74"
	sandTint  = "#f5ecd7" // removed between kept shapes
	emberTint = "#f0cf9c" // removed inside a shape
	plainTint = "#fbf9f3" // surround
	relief    = "#a4561a"
	alarm     = "#8e2464"
)

// strokeStyle inks an operation: dash and width tell it apart without colour.
func strokeStyle(op artwork.Operation) style {
	switch op {
	case artwork.Pen:
		return style{stroke: "#6d7482", width: 1.4, dash: []float64{1.5, 3.5}}
	case artwork.Score:
		return style{stroke: "#b06a12", width: 1.8, dash: []float64{9, 5}}
	case artwork.Perforate:
		return style{stroke: "#7d5a96", width: 1.8, dash: []float64{9, 3, 1.5, 3}}
	case artwork.KissCut:
		return style{stroke: "#1f5f74", width: 1.8}
	}
	return style{stroke: "#16203f", width: 2.4}
}

func operationName(op artwork.Operation) string {
	return map[artwork.Operation]string{
		artwork.Pen: "pen", artwork.Score: "score", artwork.Perforate: "perforate",
		artwork.KissCut: "kiss cut", artwork.ThroughCut: "through cut",
	}[op]
}
