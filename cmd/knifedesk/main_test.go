package main

import (
	"os"
	"testing"

	"knifedesk/db/dbtest"
)

func TestMain(m *testing.M) { os.Exit(dbtest.Run(m)) }
