package kinetics

import (
	"testing"

	"ebbline/unit"
)

func TestNPCRExamples(t *testing.T) {
	// Worked by an independent script from the sets of Depner and Daugirdas.
	for _, tt := range []struct {
		bun, sp float64
		perWeek int
		at      Position
		want    float64
	}{
		{70, 1.4, 3, FirstOfWeek, 1.0197}, {60, 1.4, 3, MiddleOfWeek, 1.0543}, {56, 1.4, 3, LastOfWeek, 1.0605},
		{90, 1.6, 2, FirstOfWeek, 1.0203}, {78, 1.6, 2, LastOfWeek, 1.0274},
	} {
		f, err := NPCR(ProteinSample{Pre: unit.BUN(tt.bun), SpKtV: tt.sp, PerWeek: tt.perWeek, Position: tt.at})
		if err != nil || len(f.Cautions) != 0 {
			t.Fatalf("%+v: %v, %v", tt, f.Cautions, err)
		}
		near(t, "nPCR", f.Value, tt.want, 0.00005)
	}
}

// The constants want mg/dL of nitrogen; the type brings every unit to it.
func TestNPCRInEveryUnit(t *testing.T) {
	for _, tt := range []struct {
		value float64
		unit  string
	}{{60, unit.BUNMgPerDL}, {60 / 2.8014, unit.UreaMmolPerL}, {60 * 6.0056 / 2.8014, unit.UreaMgPerDL}} {
		u, err := unit.NewUrea(tt.value, tt.unit)
		if err != nil {
			t.Fatal(err)
		}
		f, err := NPCR(ProteinSample{Pre: u, SpKtV: 1.4, PerWeek: 3, Position: MiddleOfWeek})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "nPCR from "+tt.unit, f.Value, 1.0543, 0.00005)
	}
}

func TestCorrectedPre(t *testing.T) {
	p := ProteinSample{Pre: unit.BUN(60), SpKtV: 1.4, PerWeek: 3, Position: MiddleOfWeek, ResidualMlMin: 3, VolumeL: 35}
	got, err := CorrectedPre(p)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "corrected", got.BUNMgPerDL(), 74.914, 0.0005)
	p.ResidualMlMin, p.VolumeL = 0, 0
	if got, err = CorrectedPre(p); err != nil || got != p.Pre {
		t.Errorf("without residual clearance %v became %v, %v", p.Pre, got, err)
	}
}

func TestNPCRRefuses(t *testing.T) {
	plain := ProteinSample{Pre: unit.BUN(60), SpKtV: 1.4, PerWeek: 3, Position: MiddleOfWeek}
	for _, tt := range []struct {
		field  string
		change func(*ProteinSample)
	}{
		{"pre_bun_mg_dl", func(p *ProteinSample) { p.Pre = 0 }},
		{"spktv", func(p *ProteinSample) { p.SpKtV = 0 }},
		{"sessions_per_week", func(p *ProteinSample) { p.PerWeek = 4 }},
		{"position", func(p *ProteinSample) { p.PerWeek = 2 }},
		{"position", func(p *ProteinSample) { p.Position = "" }},
		{"urea_volume_l", func(p *ProteinSample) { p.ResidualMlMin = 2 }},
		{"residual_clearance_ml_min", func(p *ProteinSample) { p.ResidualMlMin = -1 }},
	} {
		p := plain
		tt.change(&p)
		_, err := NPCR(p)
		refusedAbout(t, "nPCR", err, tt.field)
		_, err = CorrectedPre(p)
		refusedAbout(t, "corrected", err, tt.field)
	}
	for _, change := range []func(*ProteinSample){
		func(p *ProteinSample) { p.SpKtV = 0.5 }, func(p *ProteinSample) { p.SpKtV = 2.1 }, func(p *ProteinSample) { p.Pre = unit.BUN(10) },
	} {
		p := plain
		change(&p)
		f, err := NPCR(p)
		if err != nil || !hasCode(f.Cautions, "npcr_outside_fit") {
			t.Errorf("%+v: %v, %v; want npcr_outside_fit", p, f, err)
		}
	}
}

func TestGeneration(t *testing.T) {
	gap := Interval{Start: unit.BUN(20), Mean: unit.BUN(41), End: unit.BUN(58), StartVolumeL: 35, EndVolumeL: 37, ResidualMlMin: 2, Minutes: 2640}
	g, err := Generation(gap)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "generation", g, 6.297, 0.0005) // worked by an independent script
	for _, tt := range []struct {
		field  string
		change func(*Interval)
	}{
		{"end_urea", func(i *Interval) { i.Start, i.End, i.ResidualMlMin = i.End, i.Start, 0 }},
		{"mean_urea", func(i *Interval) { i.Mean = 0 }},
		{"interval_min", func(i *Interval) { i.Minutes = 0 }},
		{"start_volume_l", func(i *Interval) { i.StartVolumeL = 0 }},
		{"start_urea", func(i *Interval) { i.Start = 0 }},
	} {
		i := gap
		tt.change(&i)
		_, err := Generation(i)
		refusedAbout(t, "generation", err, tt.field)
	}
	gap.ResidualMlMin, gap.Mean = 0, 0
	if _, err := Generation(gap); err != nil {
		t.Errorf("without residual clearance the mean is not needed: %v", err)
	}
}

func TestProteinAndGeneration(t *testing.T) {
	// nPCR 1.0 at 35 L stands for 5.3535 mg/min.
	g, err := GenerationFromNPCR(1, 35)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "generation", g, 5.3535, 0.00005)
	near(t, "by the short form", 0.184*(1-0.17)*35, g, 0.01)
	back, err := NPCRFromGeneration(g, 35)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "and back", back, 1, 1e-12)
	// 7.709 g a day is the same generation: 60.34 g of protein by the one
	// formula, 61.10 by the other.
	pcr, err := ProteinCatabolicRate(7.709/1.44, 35)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "protein, Borah", pcr, 60.34, 0.01)
	sargent, err := SargentPCR(7.709)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "protein, Sargent", sargent, 61.10, 0.005)

	_, err = GenerationFromNPCR(0.17, 35)
	refusedAbout(t, "less than nothing", err, "npcr_g_kg_day")
	_, err = NPCRFromGeneration(5, 0)
	refusedAbout(t, "no volume", err, "urea_volume_l")
	_, err = ProteinCatabolicRate(-1, 35)
	refusedAbout(t, "generation", err, "generation_mg_min")
	_, err = SargentPCR(-1)
	refusedAbout(t, "generation", err, "generation_g_day")
}
