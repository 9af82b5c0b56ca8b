package report

import (
	"encoding/xml"
	"fmt"
	"io"
	"strings"
	"testing"
)

// The page can be read by a machine that reads aloud: well-formed, headings
// on every table, ids used once, no style or script.
func TestPageIsAccessible(t *testing.T) {
	for _, s := range []Sheet{eveningSheet(t), BlankSheet(ilsabet, prescription(), machine)} {
		ids := map[string]bool{}
		page := strings.ReplaceAll(pageOf(t, s, printing), "&nbsp;", "\u00a0")
		dec := xml.NewDecoder(strings.NewReader(page))
		tables, scoped := 0, 0
		for {
			tok, err := dec.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatalf("not well-formed: %v", err)
			}
			el, ok := tok.(xml.StartElement)
			if !ok {
				continue
			}
			scope := false
			for _, a := range el.Attr {
				switch {
				case a.Name.Local == "style" || strings.HasPrefix(a.Name.Local, "on"):
					t.Errorf("<%s> carries %s", el.Name.Local, a.Name.Local)
				case a.Name.Local == "id" && ids[a.Value]:
					t.Errorf("id %q is used twice", a.Value)
				case a.Name.Local == "id":
					ids[a.Value] = true
				case a.Name.Local == "scope":
					scope = true
				}
			}
			switch el.Name.Local {
			case "table":
				tables++
			case "th":
				scoped++
				if !scope {
					t.Error("a heading of a table has no scope")
				}
			case "script", "style":
				t.Errorf("<%s> in the sheet", el.Name.Local)
			}
		}
		if tables < 2 || scoped < 20 {
			t.Errorf("%d tables with %d headings", tables, scoped)
		}
	}
}

// State is told by shape before colour.
func TestStatesDifferInShape(t *testing.T) {
	seen := map[string]string{}
	for _, state := range []string{checkReady, checkLook, checkStop, checkReason, checkOpen, checkTick} {
		sign := CheckLine{State: state}.Sign()
		if other := seen[sign]; other != "" {
			t.Errorf("%q and %q are both %s", state, other, sign)
		}
		seen[sign] = state
	}
}

// In grey, the paper keeps its words and curves dark enough to copy.
func TestSheetInGrey(t *testing.T) {
	f := sheetFile(t, eveningSheet(t), printing)
	grey := tool(t, "pdftoppm", "-r", "60", "-gray", "-singlefile", f.path)
	var w, h, most int
	if _, err := fmt.Sscanf(grey, "P5\n%d %d\n%d\n", &w, &h, &most); err != nil {
		t.Fatal(err)
	}
	pixels := []byte(grey[len(grey)-w*h:])
	dark, mid := 0, 0
	for _, v := range pixels {
		switch {
		case v < 96:
			dark++
		case v < 200:
			mid++
		}
	}
	if share := float64(dark) / float64(w*h); share < 0.01 || share > 0.2 {
		t.Errorf("%.1f %% of the paper is dark", share*100)
	}
	if mid < dark/4 {
		t.Errorf("%d dark and %d middle grey points", dark, mid)
	}
}
