package ask

import (
	"errors"
	"strconv"
	"strings"
)

// ParseReply reads a reply as it is written in forms and on command lines:
// question=answer, question=answer:MM where the answer needs a length, or
// question=answer:REASON where it needs a reason.
func ParseReply(text string) (question string, r Reply, err error) {
	question, said, ok := strings.Cut(text, "=")
	answer, more, _ := strings.Cut(said, ":")
	if !ok || question == "" || answer == "" {
		return "", Reply{}, errors.New("write question=answer, question=answer:MM or question=answer:REASON")
	}
	if mm, err := strconv.ParseFloat(more, 64); err == nil {
		return question, Reply{Answer: answer, MM: mm}, nil
	}
	return question, Reply{Answer: answer, Reason: more}, nil
}
