package session

// glucose is the blood sugar before the start, where the unit marked it (hazard H-143).
func (l startLine) glucose(v *verdict) {
	v.skip = !l.rx.MarkedGlucose()
	switch {
	case v.skip:
	case judged(l, v, startLine.sugarRead) == nil:
		v.open(nil, "glucose_open")
	}
}

// sugarRead judges one blood sugar. A low one stops until the unit was rung or it is
// measured again at the figure or over it, and stays in sight then, with both values.
func (l startLine) sugarRead(v *verdict, b *Glucose, e *Event) {
	l.lowSugar(v, b, e)
	switch age := l.at.Sub(e.At); {
	case !b.isRead():
		why := missingWords[e.Missing["glucose_mmol_l"]]
		if why == "" {
			why = missingWords[e.Missing["glucose_mg_dl"]]
		}
		v.open(e, "glucose_missing", why)
	case age > GlucoseLatest, e.At.Before(l.h.endedLast()):
		v.open(e, "glucose_old", clock(e.At), b.Text())
	}
	if !v.any() {
		figure, whose := glucoseFigure(l.rx)
		v.ready("glucose_ready", b.Text(), ago(e.At, l.at), figure.Text()).against(figure.Text() + ", " + whose)
	}
}

// lowSugar finds a blood sugar that is low, or one that is high.
func (l startLine) lowSugar(v *verdict, b *Glucose, e *Event) {
	figure, whose := glucoseFigure(l.rx)
	limit, high := figure.Text()+", "+whose, GlucoseHigh.Text()+", "+ownDefault
	switch {
	case b.Shows == MeterLow:
		v.ring(e, "glucose_lo").against(limit).stays(looked).ambulanceToo(true)
	case b.Shows == MeterHigh:
		v.look(e, "glucose_hi").against(high)
	case b.isHigh():
		v.look(e, "glucose_high", b.Text(), GlucoseHigh.Text()).against(high)
	case b.isLow(figure):
		v.ring(e, "glucose_low", b.Text(), figure.Text()).against(limit).stays(looked).ambulanceToo(true)
	}
}

// sugarUnmarked finds a low blood sugar of somebody whom the unit did not mark: the
// check is left out then, and nothing dangerous is silent.
func (l startLine) sugarUnmarked(v *verdict) {
	if !l.rx.MarkedGlucose() {
		judgedApart(l, v, startLine.lowSugar)
	}
}
