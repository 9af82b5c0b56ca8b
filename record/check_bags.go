package record

import "ebbline/session"

// checkBathLabel lets a label replace only a bag of this session that is not right.
func checkBathLabel(c *Checker) {
	b := c.Entry.Body.(*session.BathLabel)
	if b.Replaces == "" {
		return
	}
	before := c.without()
	for _, bad := range session.BadBags(before, c.Member.History(before), c.Entry.At) {
		if bad.Is(b.Replaces) {
			return
		}
	}
	c.Refuse("replaces", "%s is no bag of this session that is not right and still on", quote(b.Replaces))
}
