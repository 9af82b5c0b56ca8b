package report

import (
	"bufio"
	"os"
	"strconv"
	"strings"
	"testing"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// columnOf gives the sum of a sheet's plan, a line a term.
func columnOf(p Plan) string {
	var lines []string
	for _, t := range p.Sum {
		lines = append(lines, strings.TrimSpace(t.Sign+" "+t.Label+" "+t.Value.Text))
	}
	return strings.Join(lines, "\n")
}

// A plan below the dry weight stands with its minus, and what stands above the
// last line adds up to it.
func TestSheetBelowDryWeight(t *testing.T) {
	for _, tt := range []struct {
		pre  unit.Mass // of 58.5 kg dry; 300 mL of drinks and 200 of washback
		want []string
	}{
		{58_300, []string{"= Below dry weight −200", "+ Drinks and food 300", "+ Washback 200", "= Fluid to remove 300"}},
		{58_100, []string{"= Below dry weight −400", "= Fluid to remove 100"}},
		{57_700, []string{"= Below dry weight −800", "+ Short of dry weight 300", "= Fluid to remove 0"}},
	} {
		d := newDiary(t, "Europe/Oslo", "2026-03-10")
		d.add(d.at(17, 0), &session.Opened{Place: "home", Source: "live"})
		d.add(d.at(17, 5), &session.WeighIn{Weight: tt.pre, Scale: "bath", ReadIn: "kg"})
		plan, err := session.MakePlan(d.s, session.Choices{}, session.History{}, d.at(17, 10))
		if err != nil {
			t.Fatal(err)
		}
		d.add(d.at(17, 10), &plan.AgreedPlan)
		sheet := SheetOf(SheetInput{Head: ilsabet, Session: d.s, Now: d.at(18, 0)})
		got := columnOf(sheet.Plan)
		for _, line := range tt.want {
			if !strings.Contains("\n"+got+"\n", "\n"+line+"\n") {
				t.Errorf("%s: no line %q in\n%s", tt.pre.Text(), line, got)
			}
		}
		total := 0
		for _, term := range sheet.Plan.Sum[3 : len(sheet.Plan.Sum)-1] { // from above or below dry weight on
			ml, err := strconv.Atoi(strings.Replace(term.Value.Text, "−", "-", 1))
			if err != nil {
				t.Fatal(err)
			}
			if term.Sign == "−" {
				ml = -ml
			}
			total += ml
		}
		if total != int(plan.Goal) {
			t.Errorf("%s: the column adds up to %d, the goal is %s\n%s", tt.pre.Text(), total, plan.Goal.Text(), got)
		}
		if said := strings.Join(sheet.Plan.Cautions, " "); strings.Contains(said, "below your dry weight") != (tt.pre <= 58_200) {
			t.Errorf("%s: said beside it %q", tt.pre.Text(), said)
		}
	}
}

// A plan agreed when nothing was taken off below the dry weight is printed as it
// was written then, with what was said beside it.
func TestSheetOfTheOlderRule(t *testing.T) {
	file, err := os.Open("../record/testdata/older_below_dry.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	h, lines := record.NewHousehold(), bufio.NewScanner(file)
	for lines.Scan() {
		e, err := record.ReadEntry(lines.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		if err := h.Apply(e); err != nil {
			t.Fatal(err)
		}
	}
	s := h.Session("s-2026-03-04")
	sheet := SheetOf(SheetInput{Head: ilsabet, Session: s, Now: made})
	want := "Weight before 57.9\n− Clothes 0.1\n− Dry weight 58.2\n= Below dry weight: nothing 0\n+ Drinks and food 200\n+ Washback 250\n+ Saline 0\n= Fluid to remove 0"
	if got := columnOf(sheet.Plan); got != want {
		t.Errorf("the sheet shows\n%s\nwant\n%s", got, want)
	}
	if said := strings.Join(sheet.Plan.Cautions, "; "); !strings.Contains(said, "nothing is to be removed. Ring your unit") {
		t.Errorf("said beside it: %q", said)
	}
	has(t, "the printed sheet", pageOf(t, sheet, printing), "Below dry weight: nothing")
}
