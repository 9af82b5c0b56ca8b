package kinetics

import "testing"

func BenchmarkSteady(b *testing.B) {
	for _, c := range readWeekCases(b) {
		if c.ID != "c01" && c.ID != "c02" && c.ID != "c07" && c.ID != "c03" {
			continue
		}
		p, cycle := c.model()
		for _, p.Fluid = range []FluidFrom{FromExtracellular, FromBoth} {
			into := make([]Levels, len(cycle.Sessions))
			b.Run(c.ID+string(rune('A'+p.Fluid)), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if _, err := p.Steady(cycle, into); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
