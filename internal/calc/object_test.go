package calc

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"
)

func object(t *testing.T, in string) *Object {
	t.Helper()
	o, err := parseObject([]byte(in))
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// said reads what o's problems are after read.
func said(t *testing.T, in string, read func(*Object)) []string {
	t.Helper()
	o := object(t, in)
	read(o)
	var p Problems
	if err := o.Done(); err != nil && !errors.As(err, &p) {
		t.Fatalf("Done = %v", err)
	}
	return p
}

func TestParseObjectRefuses(t *testing.T) {
	for _, bad := range []string{
		``, ` `, `null`, `true`, `1`, `"a"`, `[]`, `[{}]`, `{`, `}`, `{}{}`, `{} {}`, `{},`, `{}x`, `{"a"}`, `{"a":}`, `{"a":1,}`, `{,}`,
		`{"a":1 "b":2}`, `{a:1}`, `{'a':1}`, `{"a":1}]`, `{"a":NaN}`, `{"a":Infinity}`, `{"a":01}`, `{"a":+1}`, `{"a":.5}`, `{"a":5.}`,
		`{"a":0x10}`, `{"a":1_000}`, `{"a":1,000}`, `{"a":"` + "\n" + `"}`, `{"a":tru}`, `// note` + "\n{}", "\ufeff{}", "{\"a\":\"\xff\"}", "{\"a\xc3\":1}", "\xff\xfe{\x00}\x00",
		`{"a":1,"a":1}`, `{"a":1,"\u0061":2}`, // the same key written in two ways
		strings.Repeat(`{"a":`, 20000) + `1` + strings.Repeat(`}`, 20000),
	} {
		o, err := parseObject([]byte(bad))
		var p Problems
		if !errors.As(err, &p) || len(p) != 1 || !strings.HasPrefix(p[0], "input: ") || o != nil {
			t.Errorf("%.60q: %v, %v; want one sentence on the input", bad, o, err)
		}
	}
	for _, good := range []string{`{}`, " \t\r\n{ }\n", `{"a":1}`, `{"a":{"a":1}}`, `{"a":1,"A":2}`} {
		if _, err := parseObject([]byte(good)); err != nil {
			t.Errorf("%q: %v", good, err)
		}
	}
}

func TestObjectFloat(t *testing.T) {
	for _, tt := range []struct {
		value string
		want  float64 // NaN when refused
	}{
		{`0`, 0}, {`-0`, 0}, {`10`, 10}, {`1e1`, 10}, {`0.1`, 0.1}, {`1E-2`, 0.01}, {`5.0000`, 5},
		{`1e-400`, 0}, // below what a float64 holds is 0, which is in range
		{`10.0000001`, math.NaN()}, {`-1e-9`, math.NaN()}, {`1e999`, math.NaN()}, {`null`, math.NaN()},
		{`"5"`, math.NaN()}, {`true`, math.NaN()}, {`[5]`, math.NaN()}, {`{"value":5}`, math.NaN()}, {`""`, math.NaN()},
	} {
		var got float64
		p := said(t, `{"a":`+tt.value+`}`, func(o *Object) { got = o.Float("a", 0, 10) })
		if refused := math.IsNaN(tt.want); refused != (len(p) == 1) || refused != math.IsNaN(got) || !refused && got != tt.want {
			t.Errorf("Float of %s = %v, %q; want %v", tt.value, got, p, tt.want)
		}
		if len(p) == 1 && (!strings.HasPrefix(p[0], "a: ") || !strings.HasSuffix(p[0], "accepted is a number from 0 to 10")) {
			t.Errorf("Float of %s says %q", tt.value, p)
		}
	}
	if p := said(t, `{}`, func(o *Object) { o.Float("a", 0.01, 3e7) }); !slices.Equal(p, []string{"a: is missing; accepted is a number from 0.01 to 30000000"}) {
		t.Errorf("missing: %q", p)
	}
}

// What is accepted is said alike, whatever is wrong: 0 is not offered where 0
// is refused, nor a half where only whole numbers go.
func TestObjectSaysWhatIsAccepted(t *testing.T) {
	for _, in := range []string{`{}`, `{"a":0}`, `{"a":-1}`, `{"a":11}`, `{"a":"5"}`, `{"a":null}`, `{"a":1e999}`} {
		if p := said(t, in, func(o *Object) { o.FloatAbove("a", 0, 10) }); len(p) != 1 || !strings.HasSuffix(p[0], "accepted is a number above 0, up to 10") {
			t.Errorf("above 0, of %s: %q", in, p)
		}
	}
	for _, in := range []string{`{}`, `{"a":1}`, `{"a":2.5}`, `{"a":11}`, `{"a":"5"}`, `{"a":null}`, `{"a":1e999}`} {
		if p := said(t, in, func(o *Object) { o.Int("a", 2, 10) }); len(p) != 1 || !strings.HasSuffix(p[0], "accepted is a whole number from 2 to 10") {
			t.Errorf("whole, of %s: %q", in, p)
		}
	}
}

func TestObjectFloatKinds(t *testing.T) {
	for _, tt := range []struct {
		name, in string
		read     func(*Object) any
		want     any
		problems int
	}{
		{"above its bound", `{"a":0.5}`, func(o *Object) any { return o.FloatAbove("a", 0, 1) }, 0.5, 0},
		{"on its bound", `{"a":0}`, func(o *Object) any { return math.IsNaN(o.FloatAbove("a", 0, 1)) }, true, 1},
		{"below its bound", `{"a":-1}`, func(o *Object) any { return math.IsNaN(o.FloatAbove("a", 0, 1)) }, true, 1},
		{"absent for another", `{}`, func(o *Object) any { return o.FloatOr("a", 7, 0, 1) }, 7.0, 0},
		{"null is not absent", `{"a":null}`, func(o *Object) any { return math.IsNaN(o.FloatOr("a", 7, 0, 1)) }, true, 1},
		{"absent", `{}`, func(o *Object) any { return o.FloatIf("a", 0, 1) == nil }, true, 0},
		{"given", `{"a":1}`, func(o *Object) any { return *o.FloatIf("a", 0, 1) }, 1.0, 0},
		{"whole", `{"a":3}`, func(o *Object) any { return o.Int("a", 0, 9) }, int64(3), 0},
		{"whole as 3.0", `{"a":3.0}`, func(o *Object) any { return o.Int("a", 0, 9) }, int64(3), 0},
		{"not whole", `{"a":3.5}`, func(o *Object) any { return o.Int("a", 0, 9) }, int64(0), 1},
		{"whole out of range", `{"a":10}`, func(o *Object) any { return o.Int("a", 0, 9) }, int64(0), 1},
		{"whole absent", `{}`, func(o *Object) any { return o.IntOr("a", 6, 0, 9) }, int64(6), 0},
		{"true", `{"a":true}`, func(o *Object) any { return o.Bool("a", false) }, true, 0},
		{"false", `{"a":false}`, func(o *Object) any { return o.Bool("a", true) }, false, 0},
		{"absent truth", `{}`, func(o *Object) any { return o.Bool("a", true) }, true, 0},
		{"1 is no truth", `{"a":1}`, func(o *Object) any { return o.Bool("a", false) }, false, 1},
		{"text is no truth", `{"a":"true"}`, func(o *Object) any { return o.Bool("a", false) }, false, 1},
		{"there", `{"a":null}`, func(o *Object) any { return o.Has("a") }, true, 0},
	} {
		var got any
		p := said(t, tt.in, func(o *Object) { got = tt.read(o) })
		if got != tt.want || len(p) != tt.problems {
			t.Errorf("%s: %v, %q; want %v and %d problems", tt.name, got, p, tt.want, tt.problems)
		}
	}
}

func TestObjectWords(t *testing.T) {
	for _, tt := range []struct {
		name, in string
		read     func(*Object) any
		want     any
		problems int
	}{
		{"accepted", `{"a":"av"}`, func(o *Object) any { return o.Word("a", "av", "vv") }, "av", 0},
		{"escaped", `{"a":"\u0061v"}`, func(o *Object) any { return o.Word("a", "av", "vv") }, "av", 0},
		{"in capitals", `{"a":"AV"}`, func(o *Object) any { return o.Word("a", "av", "vv") }, "AV", 1},
		{"with a space", `{"a":"av "}`, func(o *Object) any { return o.Word("a", "av", "vv") }, "av ", 1},
		{"null", `{"a":null}`, func(o *Object) any { return o.Word("a", "av", "vv") }, "", 1},
		{"number", `{"a":1}`, func(o *Object) any { return o.Word("a", "av", "vv") }, "", 1},
		{"missing", `{}`, func(o *Object) any { return o.Word("a", "av", "vv") }, "", 1},
		{"absent for another", `{}`, func(o *Object) any { return o.WordOr("a", "vv", "av", "vv") }, "vv", 0},
		{"text", `{"a":"needle"}`, func(o *Object) any { return o.Text("a") }, "needle", 0},
		{"blank text", `{"a":" \n"}`, func(o *Object) any { return o.Text("a") }, " \n", 1},
		{"date", `{"a":"2026-02-28"}`, func(o *Object) any { return o.Date("a") }, time.Date(2026, 2, 28, 0, 0, 0, 0, time.UTC), 0},
		{"no such day", `{"a":"2026-02-29"}`, func(o *Object) any { return o.Date("a").IsZero() }, true, 1},
		{"another order", `{"a":"28-02-2026"}`, func(o *Object) any { return o.Date("a").IsZero() }, true, 1},
		{"with a time", `{"a":"2026-02-28T10:00:00Z"}`, func(o *Object) any { return o.Date("a").IsZero() }, true, 1},
		{"year 0026", `{"a":"0026-02-28"}`, func(o *Object) any { return o.Date("a").IsZero() }, true, 1},
		{"date absent", `{}`, func(o *Object) any { return o.DateIf("a").IsZero() }, true, 0},
		{"dates", `{"a":["2026-02-28","2026-03-01"]}`, func(o *Object) any { return len(o.Dates("a")) }, 2, 0},
		{"no dates", `{"a":[]}`, func(o *Object) any { return len(o.Dates("a")) }, 0, 0},
		{"dates null", `{"a":null}`, func(o *Object) any { return len(o.Dates("a")) }, 0, 1},
		{"one bad date", `{"a":["2026-02-28","tomorrow"]}`, func(o *Object) any { return len(o.Dates("a")) }, 2, 1},
	} {
		var got any
		p := said(t, tt.in, func(o *Object) { got = tt.read(o) })
		if got != tt.want || len(p) != tt.problems {
			t.Errorf("%s: %v, %q; want %v and %d problems", tt.name, got, p, tt.want, tt.problems)
		}
	}
	if p := said(t, `{"a":["2026-02-28","tomorrow"]}`, func(o *Object) { o.Dates("a") }); len(p) != 1 || !strings.HasPrefix(p[0], `a[1]: "tomorrow" is not a date`) {
		t.Errorf("the bad one of two dates: %q", p)
	}
}

func TestObjectNested(t *testing.T) {
	read := func(o *Object) {
		inner := o.Object("dose")
		inner.Float("value", 0, 10)
		inner.Word("unit", "IU", "mg")
		inner.Close()
	}
	for in, want := range map[string][]string{
		`{"dose":{"value":1,"unit":"IU"}}`:  nil,
		`{}`:                                {"dose: is missing; accepted is an object"},
		`{"dose":null}`:                     {"dose: not an object; accepted is an object"},
		`{"dose":[1]}`:                      {"dose: not an object; accepted is an object"},
		`{"dose":{"value":11,"unit":"IU"}}`: {"dose.value: 11 is out of range; accepted is a number from 0 to 10"},
		`{"dose":{"unit":"IU"}}`:            {"dose.value: is missing; accepted is a number from 0 to 10"},
		`{"dose":{"value":1,"unit":"IU","z":0,"b":0}}`: {
			"dose.b: is not a key here; accepted are unit, value", "dose.z: is not a key here; accepted are unit, value"},
		`{"dose":{"value":1,"value":1,"unit":"IU"}}`: {`dose: key "value" stands twice; accepted is an object`},
	} {
		if got := said(t, in, read); !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", in, got, want)
		}
	}
}

func TestObjectList(t *testing.T) {
	var seen []float64
	read := func(o *Object) {
		seen = nil
		o.Objects("items", 1, 3, func(i int, item *Object) {
			seen = append(seen, item.Float("n", 0, 9))
			if i != len(seen)-1 {
				t.Errorf("item %d is read as the %dth", i, len(seen))
			}
		})
	}
	for in, want := range map[string][]string{
		`{"items":[{"n":1},{"n":2}]}`:             nil,
		`{"items":[]}`:                            {"items: has 0 items; accepted are 1 to 3"},
		`{"items":[{"n":1},{"n":1},{"n":1},{}]}`:  {"items: has 4 items; accepted are 1 to 3"},
		`{"items":{"n":1}}`:                       {"items: is of the wrong type; accepted is a list of objects"},
		`{"items":null}`:                          {"items: is of the wrong type; accepted is a list of objects"},
		`{}`:                                      {"items: is missing; accepted is a list of objects"},
		`{"items":[{"n":1},2]}`:                   {"items[1]: not an object; accepted is an object"},
		`{"items":[{"n":1},{"n":10}]}`:            {"items[1].n: 10 is out of range; accepted is a number from 0 to 9"},
		`{"items":[{"n":1,"m":1},{"n":2}]}`:       {"items[0].m: is not a key here; accepted are n"},
		`{"items":[{"n":1}],"other":[{"n":"x"}]}`: {"other: is not a key here; accepted are items"},
	} {
		if got := said(t, in, read); !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", in, got, want)
		}
	}
	read(object(t, `{"items":[{"n":4},{"n":5}]}`))
	if !slices.Equal(seen, []float64{4, 5}) {
		t.Errorf("read %v", seen)
	}
}

// All problems are said at once, each on a line of its own.
func TestObjectSaysEverything(t *testing.T) {
	got := said(t, `{"a":"x","c":1,"B":2}`, func(o *Object) {
		o.Float("a", 0, 1)
		o.Float("b", 0, 1)
		o.Float("c", 2, 3)
	})
	want := []string{
		`a: "x" is of the wrong type; accepted is a number from 0 to 1`,
		`b: is missing; accepted is a number from 0 to 1`,
		`c: 1 is out of range; accepted is a number from 2 to 3`,
		`B: is not a key here; accepted are a, b, c`,
	}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	if text := Problems(got).Error(); strings.Count(text, "\n") != 3 {
		t.Errorf("not one a line: %q", text)
	}
}

// A key or a value can hold a line break or be endless; its sentence stays one
// short line of whole characters.
func TestObjectSentencesStayLines(t *testing.T) {
	long := strings.Repeat("µ", 5000)
	for _, in := range []string{
		`{"a\nb":1}`, `{"":1}`, `{"` + long + `":1}`, `{"x":"` + long + `"}`, `{"x":"a\nb"}`, `{"x":{"y":` + "\n\n" + `"z"}}`,
		`{"\u001b[31m":1}`, "{\"x\":\"\ufffd\"}", `{"w":"` + long + `"}`, `{"w":"a\nb"}`, `{"d":"` + long + `"}`,
	} {
		p := said(t, in, func(o *Object) {
			for _, key := range []string{"x", "w", "d"} {
				if !o.Has(key) {
					continue
				}
				switch key {
				case "x":
					o.Float("x", 0, 1)
				case "w":
					o.Word("w", "av", "vv")
				case "d":
					o.Date("d")
				}
			}
		})
		if len(p) != 1 || len(p[0]) > 300 || !utf8.ValidString(p[0]) || strings.ContainsFunc(p[0], func(r rune) bool { return r < ' ' }) {
			t.Errorf("%.40q says %q", in, p)
		}
	}
}

func TestNum(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 0.000001: "0.000001", 3e7: "30000000", 72.5: "72.5", -1: "-1", 1e300: "1e+300", 1e-12: "1e-12"} {
		if got := num(v); got != want {
			t.Errorf("num(%g) = %s, want %s", v, got, want)
		}
	}
}

//fuzz:runs 8000
func FuzzObject(f *testing.F) {
	for _, s := range []string{`{}`, `{"a":1}`, `{"a":1,"b":[{"c":2}],"d":{"e":"2026-01-01"}}`, `{"a":1e999}`, "{\"a\n\":\"\x00\"}", `[`} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, in []byte) {
		o, err := parseObject(in)
		if err != nil {
			if p := (Problems)(nil); !errors.As(err, &p) || len(p) == 0 {
				t.Fatalf("%q: %v", in, err)
			}
			return
		}
		a := o.Float("a", -5, 5)
		i := o.IntOr("i", 1, 0, 1<<40)
		o.Objects("b", 0, 10, func(_ int, item *Object) { item.Date("e"); item.Word("w", "x") })
		d := o.Object("d")
		d.Date("e")
		d.Close()
		err = o.Done()
		if err == nil && (math.IsNaN(a) || a < -5 || a > 5 || i < 0 || i > 1<<40) {
			t.Fatalf("%q: %v and %v were let through", in, a, i)
		}
		if err != nil {
			for line := range strings.SplitSeq(fmt.Sprint(err), "\n") {
				if key, what, ok := strings.Cut(line, ": "); !ok || key == "" || what == "" || len(line) > 1000 {
					t.Fatalf("%q says %q", in, line)
				}
			}
		}
	})
}
