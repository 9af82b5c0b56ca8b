package calc

import (
	"ebbline/fluid"
	"ebbline/unit"
)

// readExact reads a required number as the decimal that was written, so that
// it lies on the right side of a limit. A refused one leaves into at 0; the
// problem is noted and [Object.Done] tells.
func readExact[M unit.Measure](o *Object, key string, r fluid.Range, into *unit.Exact[M]) {
	_ = into.SetFloat(o.Float(key, r.Low, r.High)) // fails only for what was refused
}

// readExactOr reads an optional number; absent leaves into as it is.
func readExactOr[M unit.Measure](o *Object, key string, r fluid.Range, into *unit.Exact[M]) {
	if o.Has(key) {
		readExact(o, key, r, into)
	}
}

// readExactIf reads an optional number; absent leaves into nil.
func readExactIf[M unit.Measure](o *Object, key string, r fluid.Range, into **unit.Exact[M]) {
	if o.Has(key) {
		*into = new(unit.Exact[M])
		readExact(o, key, r, *into)
	}
}
