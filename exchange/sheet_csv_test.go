package exchange

import (
	"encoding/csv"
	"strings"
	"testing"
)

func TestSheetCSV(t *testing.T) {
	s := Sheet{Head: []string{"item", "packs"}, Rows: [][]string{{"needle, 16G \"sharp\"", "3"}, {"=1+1", "-2.5"}, {"@cmd", "+3"}, {"-dash", "-"}, {"two\nlines", ""}}}
	file, err := s.CSV()
	if err != nil {
		t.Fatal(err)
	}
	text := string(file)
	if !strings.HasPrefix(text, "\ufeffitem,packs\r\n") {
		t.Errorf("it begins %q", text[:20])
	}
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(text, "\ufeff"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	want := [][]string{{"item", "packs"}, {"needle, 16G \"sharp\"", "3"}, {"'=1+1", "-2.5"}, {"'@cmd", "'+3"}, {"'-dash", "'-"}, {"two\nlines", ""}}
	for i, row := range want {
		for j, cell := range row {
			if rows[i][j] != cell {
				t.Errorf("row %d, cell %d: %q, want %q", i, j, rows[i][j], cell)
			}
		}
	}
}
