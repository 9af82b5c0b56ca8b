package web

import (
	"net/http"
	"net/url"
	"slices"
	"strings"
	"unicode"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/session"
)

// A form is one kind of entry as a person fills it in.
type form struct {
	Kind     *record.Kind
	Tag      string // tells its fields from those of another form on the page
	Action   string // where it is sent
	ID       string // of the entry; made when the form is, so that sending twice is harmless
	Inputs   []input
	Hidden   map[string]string // values that the page knows better than the person
	Problem  string            // what stands against the entry as a whole
	There    string            // where the entry of a session is corrected that this form wrote before
	Unsaved  bool              // it could not be written; the values are still here
	Submit   string            // words on the button
	Back     string            // where "not now" leads
	Next     string            // where to go once it is saved; an address on this server
	Corrects string
	Reason   string
	Clock    string // "it happened at", typed; blank is now
	Asleep   bool   // the person is asleep by plan, or was in this session
	Late     bool   // its session is closed: it happened earlier
	Day      string
	Which    string // first or second, for a clock time that comes twice
	Blank    string // why the blanks are blank
	Paper    bool   // of a session typed in afterwards: its time is asked for first
	Exit     bool   // looks at the exit site of a catheter
	Lots     []lotTap
	None     *input // a no to everything, which a button says
	Ways     []way  // to what to do about a value that was typed
	Sent     bool   // what stands in it was typed and is not saved
	Shown    *kilogramsShown
}

// MayMiss reports whether the form has measured values that can be left blank
// for a reason.
func (f form) MayMiss() bool {
	return slices.ContainsFunc(f.Inputs, func(in input) bool { return in.Measured && in.Optional })
}

// fewFields is how many fields a screen shows at once, even a telephone's; what
// is said to one of them needs no pointing out.
const fewFields = 2

// LookAgain are the fields that something was said to, where the form is long
// enough for them to lie out of sight.
func (f form) LookAgain() []input {
	var said []input
	for _, in := range f.Inputs {
		if in.Problem != "" || in.Asked != "" {
			said = append(said, in)
		}
	}
	if len(f.Inputs) <= fewFields {
		return nil
	}
	return said
}

// Missing are the ways of missing, as the form offers them: asleep only to who is.
func (f form) Missing() []record.Choice {
	list := []record.Choice{
		{Value: string(session.NotDone), Label: missingWords[session.NotDone]}, {Value: string(session.NotRecorded), Label: missingWords[session.NotRecorded]},
		{Value: string(session.DoesNotApply), Label: missingWords[session.DoesNotApply]},
	}
	if f.Asleep || f.Blank == string(session.AsleepByPlan) {
		list = append(list, record.Choice{Value: string(session.AsleepByPlan), Label: missingWords[session.AsleepByPlan]})
	}
	return list
}

// An input is one field of a form with what was typed and what was said to it.
type input struct {
	record.Field
	Tag      string // of its form
	Value    string
	Offers   []record.Choice       // texts that one tap gives; words of one's own stand after them
	Problem  string                // refused, and why
	Asked    string                // strange, and why: a second field is shown
	AskedWhy string                // the same without the request to type it again
	Doubts   []record.WeightReason // why a weight is strange, or refused
	Again    string                // what was typed there
	ByTap    bool                  // kept by one tap, in place of a second typing
	Kept     bool                  // agreed to: its second typing is sent along
	Lead     *session.Lead         // the bounds beyond which it leads to what to do
	IfShown  string                // where to go if the machine does show what was refused
	Began    bool                  // less than before: a button says that the counter began again
	Redo     string                // what the second typing is called, where it is not “…, typed again”

	typedDate [3]string                   // what was typed in the boxes of a date
	Unit      string                      // typed in this unit, where it is not the record's
	Places    int                         // decimals of that unit
	Shown     bool                        // typed as the machine shows it; see readShown
	Say       func(record.Finding) string // words what was found in that unit
	For       string                      // the value of the record it makes, where that has another key
	Elsewhere *otherUnits                 // the ways to the same value in another unit
}

// newForm makes an empty form. Values that a person did not measure may be
// given; measured ones are always empty.
func newForm(kind *record.Kind, action string, given map[string]string) form {
	f := form{Kind: kind, Tag: kind.Name, Action: action, ID: newID(), Hidden: map[string]string{}, Submit: "Save"}
	for _, field := range kind.Fields {
		in := input{Field: field, Tag: kind.Name}
		if !field.Measured {
			in.Value = given[field.Key]
		}
		f.Inputs = append(f.Inputs, in)
	}
	return f
}

// tagged gives the form a name of its own, for a page that holds several of one
// kind.
func (f form) tagged(tag string) form {
	f.Tag = tag
	for i := range f.Inputs {
		f.Inputs[i].Tag = tag
	}
	return f
}

// only leaves in only the named fields, in this order; the rest are hidden
// with the values given.
func (f form) only(keys ...string) form {
	var kept []input
	for _, key := range keys {
		for _, in := range f.Inputs {
			if in.Key == key {
				kept = append(kept, in)
			}
		}
	}
	f.Inputs = kept
	return f
}

// typed fills the form with what was sent, and with what was found about it.
func (f form) typed(r *http.Request, found record.Findings) form {
	f.ID, f.Sent = r.PostFormValue("id"), true
	f.Corrects, f.Reason = r.PostFormValue("corrects"), r.PostFormValue("reason")
	f.Clock, f.Day, f.Which = r.PostFormValue("clock"), r.PostFormValue("day"), r.PostFormValue("which")
	f.Blank = r.PostFormValue("blank")
	f.Next = local(r.PostFormValue("next"))
	shown := map[string]bool{}
	for i := range f.Inputs {
		in := &f.Inputs[i]
		shown[in.Key], shown[in.For] = true, true
		if in.Shown && !r.PostForm.Has(in.Name()) && r.PostForm.Has(in.Key) {
			// Sent as the record holds it, by an older page: it comes back so.
			in.Field, _ = f.Kind.Field(in.Key)
			in.Unit, in.Shown, in.Say = "", false, nil
		}
		in.Value = strings.Join(r.PostForm[in.Name()], " ")
		in.Again = r.PostFormValue("again." + in.Name())
		in.typedDate = typedBoxes(r.PostForm, in.Key)
		for _, one := range found {
			if one.Field != in.Key && (in.For == "" || one.Field != in.For) {
				continue
			}
			why := one.Reason()
			if in.Say != nil {
				one.Words = in.Say(one)
				why = one.Words
			}
			if one.Weight != nil {
				in.Doubts = append(in.Doubts, one.Weight.Why...)
			}
			switch one.Step {
			case record.Ask:
				in.Asked, in.AskedWhy = also(in.Asked, one.Words), also(in.AskedWhy, why)
			default:
				in.Problem = also(in.Problem, one.Words)
			}
		}
	}
	for _, one := range found {
		if one.Field == "id" && one.Words == household.OtherValues && f.Kind.Session {
			f.There = sessionURL(r) + "/entry/" + url.PathEscape(f.ID)
		}
		if !shown[one.Field] {
			f.Problem = strings.TrimSpace(f.Problem + " " + label(f.Kind, one.Field) + " " + one.Words + ".")
		}
	}
	return f
}

// also puts two findings about one value one after the other.
func also(first, second string) string {
	if first == "" {
		return second
	}
	return first + ". " + second
}

// label names a field as a sentence begins.
func label(k *record.Kind, key string) string {
	if f, ok := k.Field(key); ok {
		return f.Label
	}
	switch key {
	case "at":
		return "The time"
	case "kind":
		return ""
	case "reason":
		return "The reason"
	case "id":
		return "This entry"
	case "corrects":
		return "The correction"
	case "by":
		return "Who writes"
	case "device":
		return "The name of this screen"
	}
	return strings.ReplaceAll(key, "_", " ")
}

// local keeps an address only when it leads to this server. A browser leaves
// out tabs and ends of lines, so with one of them “//” could come about.
func local(address string) string {
	if !strings.HasPrefix(address, "/") || strings.HasPrefix(address, "//") || strings.Contains(address, "\\") || strings.ContainsFunc(address, unicode.IsControl) {
		return ""
	}
	return address
}
