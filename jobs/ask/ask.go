// Package ask holds the questions a plan stops for and the answers it gets.
package ask

import (
	"strings"

	"knifedesk/jobs/finding"
)

// Question is one thing that only a person can decide.
type Question struct {
	// ID is stable for the same drawing and choices, so that an answer given
	// once is found again when the job runs anew. See ID.
	ID      string          `json:"id"`
	Code    finding.Code    `json:"code"` // the fault that raised it
	Text    string          `json:"text"`
	Colour  string          `json:"colour,omitempty"` // of the lines that it is about, "#rrggbb", where they have one
	Line    Line            `json:"line,omitempty"`   // how they are drawn, where that tells them from others
	Answers []Answer        `json:"answers"`          // ranked, the likeliest first
	Places  []finding.Place `json:"places,omitempty"`
	// Parts are what a group is made of, at most MostParts of them; empty for a
	// question that is no group. A part has no parts.
	Parts []Question `json:"parts,omitempty"`
}

// Line is how a line is drawn, apart from its colour.
type Line string

// The lines.
const (
	Whole   Line = "whole"
	Dashed  Line = "dashed"
	DashDot Line = "dash_dot"
)

// The sides of a bank card in mm, which everybody has at hand to compare with
// (ISO/IEC 7810, ID-1).
const (
	CardWidthMM  = 85.6
	CardHeightMM = 53.98
)

// Answer is one way to decide a Question.
type Answer struct {
	ID       string `json:"id"`
	Label    string `json:"label"`    // what is chosen
	Evidence string `json:"evidence"` // what speaks for it, and what a known edge would measure
	// NeedsMM says that the reply must carry a length, such as the true
	// length of a named edge.
	NeedsMM bool `json:"needs_mm,omitempty"`
	// NeedsReason says that the reply must carry a reason: it lets something
	// pass, and the reason stands in the plan and on the worksheet.
	NeedsReason bool `json:"needs_reason,omitempty"`
	// WidthMM and HeightMM are what the finished work measures under this
	// answer, in mm; both 0 where the answer does not fix the size.
	WidthMM  float64        `json:"width_mm,omitempty"`
	HeightMM float64        `json:"height_mm,omitempty"`
	Values   finding.Values `json:"values,omitempty"`
}

// TellsSize reports whether the label says by itself what the finished work
// measures.
func (a *Answer) TellsSize() bool { return strings.Contains(a.Label, "your work is ") }

// Reply is what a person chose.
type Reply struct {
	Answer string  `json:"answer"`             // ID of the Answer
	MM     float64 `json:"value_mm,omitempty"` // the length, where the answer needs one
	Reason string  `json:"reason,omitempty"`   // in a person's words, where the answer needs one
}

// Replies are given answers by the ID of their question.
type Replies map[string]Reply

// ID names the question that a job asks about a subject: "artwork/line:#7a3eb5".
func ID(job, subject string) string { return job + "/" + subject }

// Of returns the replies to the questions of a job, that to Rest among them, nil
// where there are none, so that an answer to one job does not make another run
// again.
func (all Replies) Of(job string) Replies {
	var own Replies
	for id, r := range all {
		if asker, _, _ := strings.Cut(id, "/"); asker != job && id != Rest {
			continue
		}
		if own == nil {
			own = Replies{}
		}
		own[id] = r
	}
	return own
}
