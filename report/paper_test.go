package report

import (
	"bytes"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ebbline/report/chart"
	"ebbline/report/fonts"
	"ebbline/session"
)

// Lines keep to their width, keep every character, and break inside a word
// only where the word is longer than a line.
func TestLinesProperties(t *testing.T) {
	word := rapid.StringMatching(`[a-zæø0-9–½]{1,18}|-{40}|\x{1F9E1}`)
	rapid.Check(t, func(t *rapid.T) {
		width := rapid.Float64Range(8, 90).Draw(t, "width")
		var runs []run
		for _, text := range rapid.SliceOfN(rapid.SliceOfN(word, 0, 12), 1, 4).Draw(t, "texts") {
			runs = append(runs, run{text: strings.Join(text, " "), style: style{size: 7.5, bold: len(text)%2 == 0}})
		}
		squeeze := func(s string) string { return strings.ReplaceAll(s, " ", "") }
		want, got := "", ""
		longest := 0.0
		for _, r := range runs {
			clean, _ := fonts.Clean(r.text)
			want += clean
		}
		for _, w := range strings.Fields(want) {
			longest = max(longest, style{size: 7.5, bold: true}.width(w))
		}
		for _, l := range lines(runs, width) {
			wide, text := 0.0, ""
			for i, r := range l {
				s := r.text
				if i == len(l)-1 {
					s = strings.TrimRight(s, " ")
				}
				wide += r.width(s)
				text += r.text
			}
			if wide > width+0.01 && len([]rune(strings.TrimSpace(text))) > 1 {
				t.Fatalf("a line of %.2f mm in %.2f: %q", wide, width, text)
			}
			got += text
		}
		if squeeze(got) != squeeze(want) {
			t.Fatalf("%q became %q", want, got)
		}
	})
}

func TestLinesKeepAFigureWithItsUnit(t *testing.T) {
	s := style{size: 8}
	rs := []run{{text: "removed until now ", style: s}, {text: "1\u00a0480", style: s.strong()}, {text: "\u00a0mL", style: s.in(chart.Soft)}, {text: "[a]", style: s, raised: true}}
	for width := 24.0; width < 60; width++ {
		for _, l := range lines(rs, width) {
			if text := l[0].text; strings.HasPrefix(text, "\u00a0mL") || strings.HasPrefix(text, "[a]") {
				t.Fatalf("at %v mm a line begins with %q", width, text)
			}
		}
	}
}

func TestLinesKeepTypedLineEnds(t *testing.T) {
	if got := len(lines([]run{{text: "one\ntwo\r\nthree", style: style{size: 8}}}, 100)); got != 3 {
		t.Errorf("three typed lines became %d", got)
	}
}

// Nothing is set over the foot or over another strip, whatever the blocks.
func TestPaginateProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var blocks []block
		total := 0
		for range rapid.IntRange(1, 12).Draw(t, "blocks") {
			b := block{heading: "Changed or late", times: rapid.SampledFrom([]string{"", "18:00 – 22:00"}).Draw(t, "times")}
			if rapid.Bool().Draw(t, "head") {
				b.head = []strip{{6, nil}}
			}
			for range rapid.IntRange(0, 60).Draw(t, "strips") {
				b.strips = append(b.strips, strip{rapid.Float64Range(2, 62).Draw(t, "high"), nil})
				total++
			}
			blocks = append(blocks, b)
		}
		const top, bottom = 30.0, 280.0
		pages := paginate(blocks, style{size: 7}, func(int) float64 { return top }, bottom)
		seen := 0
		for _, pg := range pages {
			y := top
			for _, s := range pg.placed {
				if s.y < y-1e-9 {
					t.Fatalf("a strip at %.2f lies over one that ends at %.2f", s.y, y)
				}
				y = s.y + s.high
				if y > bottom+1e-9 {
					t.Fatalf("a strip ends at %.2f, under the foot at %v", y, bottom)
				}
				if s.high != blockGap && s.high != 6 {
					seen++
				}
			}
		}
		if seen > total || total > 0 && seen == 0 {
			t.Fatalf("%d strips placed of %d", seen, total)
		}
	})
}

// oneNote is a session whose only words are one note and one reading's note.
func oneNote(t testing.TB, words string) Sheet {
	d := newDiary(t, "Europe/Oslo", "2026-03-03")
	d.add(d.at(17, 0), &session.Opened{Place: "home", Source: "live", Confirmed: true, Carer: words})
	d.add(d.at(18, 0), &session.Connected{})
	d.add(d.at(19, 0), &session.Reading{Note: words})
	d.add(d.at(19, 5), &session.Note{Words: words})
	return SheetOf(SheetInput{Head: Head{Name: words, Unit: words}, Session: d.s, Now: d.at(20, 0)})
}

// Every word of a note is on the paper, or a square stands for each of its
// characters that cannot be printed.
func TestEveryWordOfANoteIsOnPaper(t *testing.T) {
	for _, words := range []string{
		"plain words and 72.5 kg", "Ærøskøbing ≥ 36.5 °C ± ½", "blood 🩸 on the tape", "עברית ישר", "日本 too", "bad \xff byte",
		"a\x00control", "<b>bold & \"quoted\"</b> {{.}}", strings.Repeat("long ", 400), strings.Repeat("x", 900), "two\nlines", "\u202eturned", "👩🏽‍⚕️",
	} {
		f := sheetFile(t, oneNote(t, words), printing)
		f.sound()
		text := f.words()
		clean, lost := fonts.Clean(words)
		joinedText := strings.Join(strings.Fields(text), "")
		for _, w := range strings.Fields(strings.ReplaceAll(clean, "\u00a0", " ")) {
			if len(w) > 40 {
				w = w[:40]
			}
			if !strings.Contains(joinedText, w) {
				t.Errorf("%.30q: the paper lacks %q", words, w)
			}
		}
		if explained := strings.Contains(text, "stands for a character that this paper cannot print"); explained != lost {
			t.Errorf("%.30q: lost %v, explained %v", words, lost, explained)
		}
	}
}

// FuzzNote proves that no text breaks a sheet, on paper or on the page.
//
//fuzz:runs 200
func FuzzNote(f *testing.F) {
	for _, s := range []string{"", "plain", "🩸", "\xff\xfe", "</article><script>alert(1)</script>", "\u202e\u200d\ufe0f", strings.Repeat("ä", 3000), "a\n\n\n\nb"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, words string) {
		s := oneNote(t, words)
		var b bytes.Buffer
		if err := s.PDF(&b, printing, made); err != nil {
			t.Fatal(err)
		}
		if !bytes.HasPrefix(b.Bytes(), []byte("%PDF-")) || !bytes.Contains(b.Bytes()[max(0, b.Len()-32):], []byte("%%EOF")) {
			t.Fatal("not a whole PDF")
		}
		page := pageOf(t, s, printing)
		if strings.Contains(page, "<script") {
			t.Fatal("a note became mark-up")
		}
	})
}
