package session

// access is the access looked at, felt and listened to.
func (l startLine) access(v *verdict) {
	if judged(l, v, startLine.accessCheck) == nil {
		v.open(nil, "access_open")
	}
}

func (l startLine) accessCheck(v *verdict, b *AccessCheck, e *Event) {
	if v.blank(e, "thrill", "skin") {
		return
	}
	catheter := l.rx.Access == "catheter"
	switch {
	case b.Chills:
		v.ring(e, "access_chills").stays(looked)
	case b.Thrill == "absent" && !catheter:
		v.ring(e, "access_no_thrill").stays(keptAsStop)
	case b.Skin == "discharge":
		v.ring(e, "access_pus").stays(looked)
	case b.Skin == "red" || b.Skin == "swollen":
		v.ring(e, "access_skin", capital(b.Skin)).stays(looked)
	case b.Thrill == "not_applicable" && !catheter:
		v.open(e, "access_not_felt")
	case catheter:
		v.ready("access_catheter")
	default:
		v.ready("access_ready")
	}
}
