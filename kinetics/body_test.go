package kinetics

import (
	"testing"
)

// Five people worked by an independent script: Watson, Hume and Weyers,
// Chertow.
var fivePeople = []struct {
	Person
	watson, hume, chertow float64
}{
	{Person{Male, 60, 170, 70, false}, 38.5294, 39.8756, 42.2907},
	{Person{Male, 35, 180, 80, false}, 45.3444, 44.7913, 49.2170},
	{Person{Female, 55, 160, 60, false}, 29.8030, 30.8859, 32.6782},
	{Person{Female, 70, 155, 90, true}, 36.6665, 34.6775, 38.4878},
	{Person{Male, 45, 175, 110, true}, 53.9418, 52.7210, 57.6700},
}

func TestBodyWater(t *testing.T) {
	for _, p := range fivePeople {
		for _, e := range []struct {
			name string
			by   func(Person) (Figure, error)
			want float64
		}{{"Watson", Watson, p.watson}, {"Hume and Weyers", HumeWeyers, p.hume}, {"Chertow", Chertow, p.chertow}} {
			f, err := e.by(p.Person)
			if err != nil || len(f.Cautions) != 0 {
				t.Errorf("%s of %+v: %v, %v", e.name, p.Person, f.Cautions, err)
			}
			near(t, e.name, f.Value, e.want, 0.00005)
		}
	}
}

// Trap: the coefficient for the age of men is 0.09516. The misprint 0.09156
// makes 0.22 L at 60; and the 42.87 L that a page works out for a man of 35,
// 180 cm and 80 kg comes from neither.
func TestWatsonAgeIsNotMisprinted(t *testing.T) {
	man := fivePeople[0].Person
	got, err := Watson(man)
	if err != nil {
		t.Fatal(err)
	}
	misprinted := 2.447 - 0.09156*60 + 0.1074*170 + 0.3362*70
	near(t, "the misprint's error at 60", misprinted-got.Value, 0.216, 1e-9)
	young, err := Watson(Person{Sex: Male, AgeY: 35, HeightCm: 180, WeightKg: 80})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "man of 35", young.Value, 45.344, 0.0005)
	if young.Value < 42.87+2 {
		t.Errorf("the wrongly worked example came out: %v", young.Value)
	}
}

// Trap: with 0.0186104 in Chertow's height-weight term an 80 kg man holds some
// 290 L of water.
func TestChertowHeightWeight(t *testing.T) {
	man := Person{Sex: Male, AgeY: 35, HeightCm: 180, WeightKg: 80}
	got, err := Chertow(man)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "Chertow", got.Value, 49.2, 0.05)
	near(t, "with the misprint", got.Value+(0.0186104-chertowHeightWeight)*180*80, 290, 1)
	watson, err := Watson(man)
	if err != nil {
		t.Fatal(err)
	}
	if over := got.Value - watson.Value; over < 2 || over > 4 {
		t.Errorf("Chertow is %v L above Watson, want 2 to 4", over)
	}
}

func TestBodyWaterRefuses(t *testing.T) {
	for _, tt := range []struct {
		name, field string
		p           Person
	}{
		{"no sex", "sex", Person{"", 40, 170, 70, false}},
		{"age", "age_y", Person{Male, 131, 170, 70, false}},
		{"height in metres", "height_cm", Person{Male, 40, 1.7, 70, false}},
		{"weight in grams", "weight_kg", Person{Male, 40, 170, 70000, false}},
		{"a small child", "weight_kg", Person{Male, 2, 85, 12, false}},
	} {
		for _, by := range []func(Person) (Figure, error){Watson, HumeWeyers, Chertow} {
			_, err := by(tt.p)
			if tt.name == "a small child" && err == nil {
				continue // Hume and Weyers still find less water than weight
			}
			refusedAbout(t, tt.name, err, tt.field)
		}
	}
	_, err := Watson(Person{Male, 2, 85, 12, false})
	refusedAbout(t, "Watson in a small child", err, "weight_kg")
	for _, p := range []Person{{Female, 15, 160, 55, false}, {Male, 40, 212, 100, false}, {Female, 40, 129, 45, false}, {Male, 40, 180, 201, false}} {
		f, err := Watson(p)
		if err != nil || !hasCode(f.Cautions, "outside_adults") {
			t.Errorf("%+v: %v, %v; want outside_adults", p, f.Cautions, err)
		}
	}
}

func TestBodySurface(t *testing.T) {
	for _, tt := range []struct {
		h, w float64
		want [4]float64 // Du Bois, Gehan and George, Haycock, Mosteller
	}{
		{170, 70, [4]float64{1.8097, 1.8313, 1.8257, 1.8181}},
		{155, 90, [4]float64{1.8833, 2.0043, 2.0147, 1.9685}},
		{180, 80, [4]float64{1.9964, 2.0095, 2.0066, 2.0000}},
	} {
		for i, by := range []func(h, w float64) (float64, error){DuBois, GehanGeorge, Haycock, Mosteller} {
			got, err := by(tt.h, tt.w)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "surface", got, tt.want[i], 0.00005)
			_, err = by(tt.h, 0)
			refusedAbout(t, "no weight", err, "weight_kg")
		}
	}
}

func TestNadler(t *testing.T) {
	for _, tt := range []struct {
		Person
		want float64
	}{
		{Person{Male, 60, 170, 70, false}, 4.660},
		{Person{Female, 55, 160, 60, false}, 3.627},
	} {
		got, err := Nadler(tt.Person)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "blood volume", got, tt.want, 0.0005)
	}
	_, err := Nadler(Person{Male, 1, 70, 3, false})
	refusedAbout(t, "a baby", err, "weight_kg")
	_, err = Nadler(Person{"", 40, 170, 70, false})
	refusedAbout(t, "no sex", err, "sex")
}
