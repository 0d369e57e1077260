package plan

import (
	"strings"

	"knifedesk/jobs/ask"
)

// repliesTo returns the replies that the stage reads, so that an answer to one
// stage does not make another run again. The part of a question's ID before
// the colon says who asks; all questions about lines belong to the artwork.
func repliesTo(stage string, all ask.Replies) ask.Replies {
	var mine ask.Replies
	for id, r := range all {
		if !readBy(stage, id) {
			continue
		}
		if mine == nil {
			mine = ask.Replies{}
		}
		mine[id] = r
	}
	return mine
}

func readBy(stage, id string) bool {
	kind, _, _ := strings.Cut(id, ":")
	switch kind {
	case "read":
		return stage == StageRead
	case "size", "frame_border", "frame_or_piece", "nested_scale":
		return stage == StageSize
	case "regions":
		return stage == StageWeeding
	case "weld": // asked over the artwork, carried out in the weeding map
		return stage == StageArtwork || stage == StageWeeding
	case "grain":
		return stage == StageLayout
	}
	return stage == StageArtwork
}
