package queue_test

import (
	"os"
	"testing"

	"knifedesk/db/dbtest"
)

// TestMain runs the tests or, in a process that a test started, the part that
// is to be killed.
func TestMain(m *testing.M) {
	switch os.Getenv(partVariable) {
	case "":
		os.Exit(dbtest.Run(m))
	case partOwner:
		os.Exit(ownAndWork())
	default:
		os.Exit(workUntilKilled())
	}
}
