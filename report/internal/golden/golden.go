// Package golden compares what a test made with a file that a person has
// looked at. After a failure the new text lies beside the old one with .got
// at its end; run the test with -update once the change is wanted.
package golden

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the golden files anew")

// Check compares got with testdata/name.
func Check(t *testing.T, name, got string) {
	t.Helper()
	file := filepath.Join("testdata", name)
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err == nil && string(want) == got {
		os.Remove(file + ".got")
		return
	}
	if werr := os.WriteFile(file+".got", []byte(got), 0o644); werr != nil {
		t.Error(werr)
	}
	if err != nil {
		t.Fatalf("%v; what was made lies in %s.got", err, file)
	}
	t.Errorf("%s differs (− wanted, + made; the whole lies in %s.got):\n%s", file, file, cmp.Diff(string(want), got))
}
