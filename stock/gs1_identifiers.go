package stock

import "strconv"

// ai is one application identifier: how long its data is, and whether only
// digits may stand in it. A fixed one needs no separator after it.
type ai struct {
	length int // exact when fixed, else the most
	fixed  bool
	digits bool
}

// identifiers are the application identifiers by number. Those whose length is
// predefined, and which stand without a separator after them, begin with 00 to
// 04, 11 to 20, 31 to 36 and 41; after every other one the separator is looked
// for, whether its data may vary in length or not.
//
// Source: GS1 General Specifications, sections 3.2 and 7.8.5 (from memory).
var identifiers = identifierTable()

func identifierTable() map[string]ai {
	t := map[string]ai{
		"00": {18, true, true}, "01": {14, true, true}, "02": {14, true, true}, "03": {14, true, true},
		"11": {6, true, true}, "12": {6, true, true}, "13": {6, true, true}, "15": {6, true, true}, "16": {6, true, true}, "17": {6, true, true},
		"20":  {2, true, true},
		"410": {13, true, true}, "411": {13, true, true}, "412": {13, true, true}, "413": {13, true, true},
		"414": {13, true, true}, "415": {13, true, true}, "416": {13, true, true}, "417": {13, true, true},
	}
	text := func(most int, ids ...string) {
		for _, id := range ids {
			t[id] = ai{most, false, false}
		}
	}
	number := func(most int, ids ...string) {
		for _, id := range ids {
			t[id] = ai{most, false, true}
		}
	}

	text(20, "10", "21", "22", "243", "254", "420", "710", "711", "712", "713", "714", "715", "716", "717",
		"7020", "7021", "7022", "7240", "8002", "8012")
	text(30, "240", "241", "250", "251", "253", "400", "401", "403", "7002", "7023", "8003", "8004", "8010",
		"7030", "7031", "7032", "7033", "7034", "7035", "7036", "7037", "7038", "7039", "90")
	text(28, "235", "7230", "7231", "7232", "7233", "7234", "7235", "7236", "7237", "7238", "7239")
	text(12, "421", "7005")
	text(10, "7009")
	text(3, "427", "7008")
	text(2, "7010")
	text(4, "7040")
	text(25, "8013", "8020")
	text(34, "8007")
	text(50, "8009")
	text(70, "8110", "8112", "8200")
	number(8, "30", "37")
	number(6, "242", "7006", "8005")
	number(25, "255")
	number(17, "402")
	number(3, "422", "424", "426")
	number(15, "423", "425")
	number(13, "7001")
	number(10, "7003", "7011", "8019")
	number(4, "7004", "8111")
	number(12, "7007", "8008", "8011")
	number(14, "8001")
	number(18, "8006", "8017", "8018", "8026")
	text(90, "91", "92", "93", "94", "95", "96", "97", "98", "99")
	// Measures and amounts carry the place of their decimal point as a last digit.
	for i := range 10 {
		place := string(rune('0' + i))
		for measure := range 60 { // weights, lengths, areas, volumes: 310 to 369
			if id := strconv.Itoa(310 + measure); i < 6 {
				t[id+place] = ai{6, true, true}
			}
		}
		number(15, "390"+place, "392"+place)
		number(18, "391"+place, "393"+place)
		number(4, "394"+place)
		number(6, "395"+place)
	}
	return t
}
