package main

import (
	"bytes"
	"flag"
	"os"
	"testing"
)

//go:generate go test -run TestEntriesPageIsCurrent -update .

var update = flag.Bool("update", false, "write the pages that are made from the program anew")

// TestEntriesPageIsCurrent: docs/entries.md is what the table of kinds says now.
func TestEntriesPageIsCurrent(t *testing.T) {
	const page = "../../docs/entries.md"
	code, want, complaint := ran(t, "", "schema", "-page")
	if code != exitDone {
		t.Fatalf("exit %d: %s", code, complaint)
	}
	if *update {
		if err := os.WriteFile(page, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, []byte(want)) {
		t.Error("docs/entries.md is not what the table of kinds says: go generate ./cmd/ebbline")
	}
}
