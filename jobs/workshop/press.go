package workshop

// Press is how heat film is pressed, by its data sheet. What the sheet does not say
// is zero.
type Press struct {
	TemperatureC float64 `json:"temperature_c,omitempty"`
	Seconds      float64 `json:"seconds,omitempty"`
	Pressure     string  `json:"pressure,omitempty"` // as the sheet has it: "medium", "3 bar"
	Peel         Peel    `json:"peel,omitempty"`
}

// Peel is how warm heat film is when its carrier is pulled off.
type Peel string

// The ways to peel.
const (
	PeelHot  Peel = "hot"
	PeelWarm Peel = "warm"
	PeelCold Peel = "cold"
)
