package kinetics

import (
	"math"
	"strconv"
	"strings"
	"testing"
)

func standardOf(t *testing.T, spktv, lengthMin, perWeek float64) float64 {
	t.Helper()
	e, err := Equilibrated(spktv, lengthMin, Arteriovenous)
	if err != nil {
		t.Fatal(err)
	}
	f, err := StandardKtV(spktv, e.Value, perWeek, lengthMin)
	if err != nil {
		t.Fatal(err)
	}
	return f.Value
}

// Worked by an independent script, eKt/V by a clearance time of 36 min.
func TestStandardExamples(t *testing.T) {
	for _, tt := range []struct{ sp, length, perWeek, want float64 }{
		{1.2, 210, 3, 1.9806}, {1.4, 240, 3, 2.1898}, {0.6, 150, 6, 2.3782}, {0.6, 180, 5, 2.0297},
		{1.4, 240, 3.5, 2.5705}, {1.6, 480, 6, 5.4490}, {2.0, 240, 2, 1.6961},
	} {
		near(t, "standard Kt/V", standardOf(t, tt.sp, tt.length, tt.perWeek), tt.want, 0.00005)
	}
}

// KDOQI 2006, table 13 (from memory): each row stands for about 2.0 a week.
func TestTable13(t *testing.T) {
	for _, tt := range []struct{ perWeek, length, want float64 }{
		{3, 210, 1.981}, {6, 150, 2.053},
	} {
		least, ok := SessionMinimum(tt.perWeek, 0)
		if !ok {
			t.Fatalf("no row for %v a week", tt.perWeek)
		}
		near(t, "standard Kt/V of a row", standardOf(t, least, tt.length, tt.perWeek), tt.want, 0.0006)
	}
	four, _ := SessionMinimum(4, 0)
	near(t, "four a week, some 3 h", standardOf(t, four, 180, 4), 2.002, 0.02)
	if v, ok := SessionMinimum(2, 0); ok {
		t.Errorf("two a week without residual clearance has a minimum, %v; it is not recommended", v)
	}
	if v, ok := SessionMinimum(5, 0); ok {
		t.Errorf("five a week has a minimum, %v; the table has no such row", v)
	}
}

// The single-pool Kt/V needed per session, by sessions a week and length, as
// computed by an independent script and printed to two places.
const neededTable = `
2.1   2.0   2.5   3.0   3.5   4.0   5.0   6.0   8.0
3     1.51  1.43  1.37  1.33  1.30  1.25  1.21  1.15
3.5   1.15  1.09  1.05  1.02  1.00  0.96  0.93  0.89
4     0.94  0.89  0.86  0.83  0.81  0.78  0.76  0.73
5     0.69  0.65  0.63  0.61  0.60  0.57  0.56  0.54
6     0.54  0.51  0.50  0.48  0.47  0.45  0.44  0.43
7     0.45  0.42  0.41  0.40  0.39  0.38  0.37  0.35

2.3   2.0   2.5   3.0   3.5   4.0   5.0   6.0   8.0
3     1.81  1.71  1.64  1.58  1.54  1.48  1.43  1.35
3.5   1.34  1.27  1.22  1.18  1.15  1.11  1.07  1.02
4     1.07  1.02  0.98  0.95  0.93  0.89  0.87  0.83
5     0.77  0.73  0.71  0.69  0.67  0.65  0.63  0.60
6     0.61  0.58  0.55  0.54  0.53  0.51  0.49  0.47
7     0.50  0.47  0.46  0.44  0.43  0.42  0.41  0.39
`

func TestSinglePoolNeeded(t *testing.T) {
	cells := 0
	for block := range strings.SplitSeq(strings.TrimSpace(neededTable), "\n\n") {
		lines := strings.Split(block, "\n")
		head := numbers(t, lines[0])
		for _, line := range lines[1:] {
			row := numbers(t, line)
			for i, want := range row[1:] {
				got, err := SinglePoolNeeded(head[0], row[0], 60*head[i+1], Arteriovenous)
				if err != nil || math.Abs(got-want) > 0.005001 {
					t.Errorf("%v a week, %v h, for %v: %v, %v; want %v", row[0], head[i+1], head[0], got, err, want)
				}
				near(t, "standard Kt/V of what is needed", standardOf(t, got, 60*head[i+1], row[0]), head[0], 1e-9)
				cells++
			}
		}
	}
	if cells != 96 {
		t.Errorf("%d cells of the table were read, want 96", cells)
	}
}

// Two a week cannot reach 2.1 without residual function in less than 6 h: the
// ceiling is in the way, or a dose no session gives.
func TestTwiceWeeklyCannotReach(t *testing.T) {
	for length := 120.0; length < 360; length += 10 {
		if got, err := SinglePoolNeeded(2.1, 2, length, Arteriovenous); err == nil && got < 3.5 {
			t.Errorf("two sessions of %v min reach 2.1 with %v each", length, got)
		}
	}
	_, err := SinglePoolNeeded(2.1, 2, 180, Arteriovenous)
	refusedAbout(t, "past the ceiling", err, "stdktv")
}

func numbers(t *testing.T, line string) []float64 {
	t.Helper()
	var v []float64
	for _, f := range strings.Fields(line) {
		n, err := strconv.ParseFloat(f, 64)
		if err != nil {
			t.Fatal(err)
		}
		v = append(v, n)
	}
	return v
}

func TestStandardFull(t *testing.T) {
	// S 2.18975 is 1.4 in 240 min, three a week.
	s := standardOf(t, 1.4, 240, 3)
	for _, tt := range []struct {
		week WholeWeek
		want float64
	}{
		{WholeWeek{7.5, 35, 0}, 2.3120},
		{WholeWeek{7.5, 35, 3}, 2.9362},
		{WholeWeek{0, 35, 0}, s},
	} {
		f, err := StandardFull(s, 1.4, 3, tt.week)
		if err != nil || len(f.Cautions) != 0 {
			t.Fatalf("%+v: %v, %v", tt.week, f, err)
		}
		near(t, "with fluid and residual clearance", f.Value, tt.want, 0.00005)
	}
	f, err := StandardFull(s, 1.4, 3, WholeWeek{RemovedL: 16, VolumeL: 35})
	if err != nil || !hasCode(f.Cautions, "weekly_fluid_outside_fit") {
		t.Errorf("5.3 L a session of 35 L: %v, %v; want weekly_fluid_outside_fit", f.Cautions, err)
	}
	_, err = StandardFull(s, 1.4, 3, WholeWeek{RemovedL: 50, VolumeL: 12})
	refusedAbout(t, "more fluid than water", err, "weekly_removed_l")
	_, err = StandardFull(s, 1.4, 3, WholeWeek{RemovedL: 5, VolumeL: 0})
	refusedAbout(t, "no volume", err, "urea_volume_l")
}

func TestStandardLimits(t *testing.T) {
	// Continuous treatment: N·t is the week, and the figure its plain Kt/V.
	f, err := StandardKtV(0.5, 0.4, 7, 1440)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "continuous", f.Value, 3.5, 1e-9)
	// Infinite dose.
	most, err := StandardCeiling(3, 240)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "ceiling", most, 3.231, 0.0005)
	f, err = StandardKtV(50, 50, 3, 240)
	if err != nil || f.Value > most || f.Value < 0.99*most {
		t.Errorf("a dose of 50 gives %v, %v; want just under %v", f.Value, err, most)
	}
	// A dose near nothing is N·spKt/V a week.
	f, err = StandardKtV(1e-6, 1e-6, 3, 240)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "hardly any dose", f.Value, 3e-6, 1e-11)
	_, err = StandardKtV(1, 1, 7, 1441)
	refusedAbout(t, "more than a day", err, "session_min")
	_, err = StandardKtV(1, 1, 14, 1000)
	refusedAbout(t, "more than the week", err, "session_min")
	_, err = StandardCeiling(7, 1440)
	refusedAbout(t, "no time between", err, "session_min")
}

func TestSurfaceNormalised(t *testing.T) {
	got, err := SurfaceNormalised(2.3, 28, 1.6, AdultVolumePerSurface)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "adult", got, 2.0125, 1e-12) // Daugirdas et al. 2008, definition
	// 40/(V/S), as in PMC2692381, where 2.21 and 2.05 are what a woman and a
	// man of 25 L need.
	for _, tt := range []struct{ perSurface, want float64 }{{18.10, 2.21}, {19.51, 2.05}} {
		need, err := StandardForSurface(2, 25, 25/tt.perSurface)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "needed for 2.0", need, tt.want, 0.0005)
		back, err := SurfaceNormalised(need, 25, 25/tt.perSurface, AdultVolumePerSurface)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "and back", back, 2, 1e-12)
	}
	_, err = SurfaceNormalised(2, 25, 0, AdultVolumePerSurface)
	refusedAbout(t, "no surface", err, "surface_m2")
	_, err = StandardForSurface(2, 0, 1.8)
	refusedAbout(t, "no volume", err, "urea_volume_l")
}
