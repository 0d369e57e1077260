package meaning

// Lab is a colour in CIELAB.
type Lab = cielab

// The difference of colours, by itself.
var (
	Difference    = difference
	LabDifference = labDifference
)
