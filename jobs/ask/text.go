package ask

import (
	"errors"
	"strconv"
	"strings"
)

// ParseReply reads a reply as it is written in forms and on command lines:
// question=answer, or question=answer:MM where the answer needs a length.
func ParseReply(text string) (question string, r Reply, err error) {
	question, answer, ok := strings.Cut(text, "=")
	if !ok || question == "" || answer == "" {
		return "", Reply{}, errors.New("write question=answer, or question=answer:MM")
	}
	if at := strings.LastIndexByte(answer, ':'); at > 0 {
		if mm, err := strconv.ParseFloat(answer[at+1:], 64); err == nil {
			return question, Reply{Answer: answer[:at], MM: mm}, nil
		}
	}
	return question, Reply{Answer: answer}, nil
}
