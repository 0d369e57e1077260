package workshop

import "knifedesk/geometry/drawing"

// Meaning is what a convention says a line is.
type Meaning string

// The meanings. MeansCut becomes a through cut or a kiss cut by the stock.
const (
	MeansPen       Meaning = "pen"
	MeansScore     Meaning = "score"
	MeansPerforate Meaning = "perforate"
	MeansCut       Meaning = "cut"
	MeansFrame     Meaning = "frame"
	MeansNothing   Meaning = "nothing" // notes and guides: left out and listed
)

// Side is which way a fold goes, seen from the side that was drawn.
type Side string

// The sides of folds, in the words of paper folding; an empty one is not known.
const (
	Mountain Side = "mountain" // the fold stands up, like the ridge of a roof
	Valley   Side = "valley"   // the fold lies below, like the middle of an open book
)

// Convention is a workshop's agreement on what layers and colours mean. The
// first rule that matches a line decides.
type Convention struct {
	ID      string `json:"id"`
	Name    string `json:"name"`
	Version int    `json:"version"`
	Rules   []Rule `json:"rules"`
	// FrameIsSheet declares that the frame has the size of the stock's sheet.
	FrameIsSheet bool `json:"frame_is_sheet"`
	// ToleranceDE is the CIEDE2000 difference up to which a colour is taken
	// for the one in the rule without asking; to NearDE it is asked about.
	ToleranceDE float64 `json:"tolerance_de"`
	NearDE      float64 `json:"near_de"`
}

// Rule gives lines a meaning by layer, colour or line width; all the
// conditions that it states must hold.
type Rule struct {
	Layer   string          `json:"layer,omitempty"` // pattern of a name, as OnLayer reads it; empty: any
	Colour  *drawing.Colour `json:"colour,omitempty"`
	WidthMM float64         `json:"width_mm,omitempty"`
	Means   Meaning         `json:"means"`
	Fold    Side            `json:"fold,omitempty"` // of a rule that means score; empty: it does not say
	// Film is the stock of which what is cut is, where the work is layered in several
	// films; empty: the rule names none.
	Film string `json:"film,omitempty"`
}
