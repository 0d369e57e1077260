// Package ask holds the questions a plan stops for and the answers it gets.
package ask

import "knifedesk/jobs/finding"

// Question is one thing that only a person can decide.
type Question struct {
	// ID is stable for the same drawing and choices, so that an answer given
	// once is found again when the stage runs anew: "size", "line:#7a3eb5".
	ID      string          `json:"id"`
	Code    finding.Code    `json:"code"` // the fault that raised it
	Text    string          `json:"text"`
	Answers []Answer        `json:"answers"` // ranked, the likeliest first
	Places  []finding.Place `json:"places,omitempty"`
}

// Answer is one way to decide a Question.
type Answer struct {
	ID       string `json:"id"`
	Label    string `json:"label"`    // what is chosen
	Evidence string `json:"evidence"` // what speaks for it, and what a known edge would measure
	// NeedsMM says that the reply must carry a length, such as the true
	// length of a named edge.
	NeedsMM bool           `json:"needs_mm,omitempty"`
	Values  map[string]any `json:"values,omitempty"`
}

// Reply is what a person chose.
type Reply struct {
	Answer string  `json:"answer"`             // ID of the Answer
	MM     float64 `json:"value_mm,omitempty"` // the length, where the answer needs one
}

// Replies are given answers by the ID of their question.
type Replies map[string]Reply
