package view

import (
	"fmt"
	"strings"
)

// FileName is the name under which a file to cut from is kept: it says what of
// the knife's way is in it. AllPasses stands for a whole load.
func (v *Results) FileName(load, pass int, format Format) string {
	chosen := chosenPasses(v.Passes.Loads[load-1].Passes, pass)
	name := fmt.Sprintf("load-%d", load)
	if pass != AllPasses {
		name += fmt.Sprintf("-pass-%d", pass)
	}
	return name + "_" + strings.ReplaceAll(Carried(chosen), " ", "-") + "." + string(format)
}
