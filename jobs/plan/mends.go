package plan

import (
	"slices"

	"knifedesk/jobs/artwork/mend"
	"knifedesk/jobs/size"
	"knifedesk/jobs/weeding"
)

// Mends returns the IDs of the mends that Options.MendsOff switches off, in the
// order in which they are made.
func Mends() []string {
	return []string{
		size.MendUnit, size.MendAxes, size.MendFrame,
		mend.MendStray, mend.MendDuplicates, mend.MendJoins, mend.MendGaps, mend.MendTiny,
		weeding.MendBridges,
	}
}

// checkMends refuses a mend that nothing makes: it would be ignored, and the
// mend that was meant be made.
func checkMends(off []string) error {
	for _, id := range off {
		if !slices.Contains(Mends(), id) {
			return &ChoiceError{Field: "options.mends_off", Reason: "There is no mend " + id + ".", Known: Mends()}
		}
	}
	return nil
}
