package fluid

import "testing"

func BenchmarkWeighIn(b *testing.B) {
	var last weighing
	newLife(3).live(151, func(_ int, w weighing) { last = w })
	in := last.input(last.pre)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := WeighIn(in); err != nil {
			b.Fatal(err)
		}
	}
}
