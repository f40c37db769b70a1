package main

import (
	"os"
	"testing"

	"hilum/internal/api"
)

func TestThePrintedRolesAreThoseInForce(t *testing.T) {
	printed, err := os.ReadFile("../deploy/roles.md")
	if err != nil || string(printed) != api.Roles() {
		t.Errorf("deploy/roles.md is out of date (%v): go run ./server roles > deploy/roles.md", err)
	}
}
