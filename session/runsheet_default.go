package session

// ReplaceMark stands on the sheets that come with the program until the
// household has put its unit's own steps in their place.
const ReplaceMark = "general steps, replace by your unit's own"

// planStep is the general step in which a plan that was made here is read.
const planStep = "Fluid plan: read every term, agree"

// DefaultSetUp gives general steps of setting up, about three quarters of an
// hour with machine and hands at work side by side (common practice). They
// name no machine and are meant to be replaced by the unit's own.
func DefaultSetUp() RunSheet {
	return RunSheet{Phase: SetUp, Marked: ReplaceMark, Steps: []Step{
		{ID: "fit", Words: "How am I? Fever, fall, bleeding, hospital, new medicine", Lane: LaneHands, Usual: 1, Tick: TickValue, Entry: "fitness",
			Stop: "Anything new: ring the unit before you go on"},
		{ID: "hands_clean", Words: "Wash hands, wipe the work surface", Lane: LaneHands, After: []string{"fit"}, Usual: 1, Tick: TickDone,
			Caution: "Window and door shut, no animals; whoever helps washes too"},
		{ID: "water_on", Words: "Water on", Lane: LaneHands, After: []string{"fit"}, Usual: 1, Tick: TickDone,
			Caution: "Brown, cloudy or with a smell: write down a notice and ask the supplier"},
		{ID: "water_runs", Words: "Water plant rinses", Lane: LaneMachine, After: []string{"water_on"}, Usual: 10, Tick: TickTimer, Timer: 10,
			Caution: "A sample drawn too early reads the water that stood"},
		{ID: "machine_on", Words: "Machine on, start its self-test", Lane: LaneHands, After: []string{"water_on"}, Usual: 1, Tick: TickDone},
		{ID: "self_test", Words: "Machine tests itself", Lane: LaneMachine, After: []string{"machine_on"}, Usual: 12, Tick: TickValue, Entry: "self_test",
			Caution: "Count every try", Stop: "Not passed: no session on this machine, ring the technician"},
		{ID: "access", Words: "Look at the access, feel and listen", Lane: LaneHands, After: []string{"fit"}, Usual: 1, Tick: TickValue, Entry: "access_check",
			Stop: "No thrill, redness, pus: do not needle, ring the unit"},
		{ID: "weigh", Words: "Weigh: same scale, hard floor, shoes off, pockets empty", Lane: LaneHands, After: []string{"fit"}, Usual: 1, Tick: TickValue, Entry: "weigh_in"},
		{ID: "vitals", Words: "Sit and rest, then blood pressure sitting and standing, pulse, temperature", Lane: LaneHands, After: []string{"fit"}, Usual: 4, Tick: TickValue, Entry: "vitals_before",
			Caution: "Never on the access arm"},
		{ID: "bath", Words: "Read the bath label, type potassium and calcium, connect", Lane: LaneHands, After: []string{"machine_on"}, Usual: 2, Tick: TickValue, Entry: "bath_label",
			Stop: "Not what is prescribed: do not use it"},
		{ID: "chlorine", Words: "Sample the water, test total chlorine", Lane: LaneHands, After: []string{"water_runs"}, Usual: 2, Tick: TickValue, Entry: "chlorine",
			Stop: "Over the limit: second sample; still over: no session, ring the unit"},
		{ID: "lines", Words: "Dialyser and lines on: name, seal, dates, caps tight, clamps; start the prime", Lane: LaneHands, After: []string{"hands_clean", "self_test"}, Usual: 5, Tick: TickValue, Entry: "supply"},
		{ID: "prime", Words: "Circuit primes", Lane: LaneMachine, After: []string{"lines"}, Usual: 8, Tick: TickTimer, Timer: 8},
		{ID: "residue", Words: "If the last cleaning was chemical: residue test shows none", Lane: LaneHands, After: []string{"prime"}, Usual: 1, Tick: TickDone,
			Stop: "Any left: rinse on and test again"},
		{ID: "air", Words: "Tap the dialyser, air out, chambers filled", Lane: LaneHands, After: []string{"prime"}, Usual: 2, Tick: TickDone},
		{ID: "conductivity", Words: "Conductivity and temperature: the machine's and your own meter's", Lane: LaneHands, After: []string{"bath", "prime"}, Usual: 1, Tick: TickValue, Entry: "fluid_check",
			Stop: "They disagree: do not connect"},
		{ID: "plan", Words: planStep, Lane: LaneHands, After: []string{"weigh", "vitals"}, Usual: 2, Tick: TickValue, Entry: "plan"},
		{ID: "dial_in", Words: "Dial in goal and time, type what the machine shows", Lane: LaneHands, After: []string{"plan", "self_test"}, Usual: 1, Tick: TickValue, Entry: "read_back"},
		{ID: "heparin", Words: "Draw up heparin: read the strength on the vial, label the syringe", Lane: LaneHands, After: []string{"hands_clean"}, Usual: 2, Tick: TickValue, Entry: "heparin_drawn"},
		{ID: "flushes", Words: "Draw up flushes and anaesthetic, lay out needles and tape", Lane: LaneHands, After: []string{"hands_clean"}, Usual: 2, Tick: TickDone},
		{ID: "start_line", Words: "Start line: every check looked at", Lane: LaneHands,
			After: []string{"access", "chlorine", "residue", "air", "conductivity", "dial_in", "heparin", "flushes"}, Usual: 1, Tick: TickDone},
		{ID: "arm", Words: "Wash hands and arm, masks on, antiseptic; let it dry", Lane: LaneHands, After: []string{"start_line"}, Usual: 3, Tick: TickDone,
			Caution: "Drying is part of the disinfection; whoever helps wears mask and gloves"},
		{ID: "needles", Words: "Needles in, taped; lines looped so that a pull does not reach them", Lane: LaneHands, After: []string{"arm"}, Usual: 5, Tick: TickValue, Entry: "needling",
			Stop: "Two failed tries: stop, ring the unit"},
		{ID: "connect", Words: "Bloods if due, connect, pump on, access in sight", Lane: LaneHands, After: []string{"needles"}, Usual: 2, Tick: TickValue, Entry: "connected"},
	}}
}

// DefaultTakeOff gives general steps of coming off (common practice), to be
// replaced by the unit's own.
func DefaultTakeOff() RunSheet {
	return RunSheet{Phase: TakeOff, Marked: ReplaceMark, Steps: []Step{
		{ID: "lay_out", Words: "Wash hands; gauze, tape, sharps bin within reach", Lane: LaneHands, Usual: 2, Tick: TickDone},
		{ID: "wash_back", Words: "Give the blood back with saline", Lane: LaneHands, After: []string{"lay_out"}, Usual: 5, Tick: TickValue, Entry: "came_off",
			Stop: "Air, foam, clots or odd colour: do not give it back; the card"},
		{ID: "pressure", Words: "Blood pressure lying, then standing when steady", Lane: LaneHands, After: []string{"wash_back"}, Usual: 3, Tick: TickValue, Entry: "vitals_after"},
		{ID: "hold", Words: "Needles out one at a time, press each without looking", Lane: LaneHands, After: []string{"pressure"}, Usual: 20, Tick: TickValue, Entry: "holding",
			Caution: "Firm, but the thrill can still be felt", Stop: "Still bleeding after the unit's time: ring"},
		{ID: "sharps", Words: "Needles into the bin at once", Lane: LaneHands, After: []string{"hold"}, Usual: 1, Tick: TickDone,
			Caution: "Nothing goes back on them, nobody is handed one; shut the bin at three quarters"},
		{ID: "weigh_after", Words: "Weigh: same scale, same clothes", Lane: LaneHands, After: []string{"hold"}, Usual: 1, Tick: TickValue, Entry: "weigh_out"},
		{ID: "circuit", Words: "Look at dialyser and lines, then strip down", Lane: LaneHands, After: []string{"hold"}, Usual: 4, Tick: TickValue, Entry: "circuit"},
		{ID: "disinfect", Words: "Start the disinfection", Lane: LaneHands, After: []string{"circuit"}, Usual: 1, Tick: TickDone},
		{ID: "disinfecting", Words: "Machine disinfects itself", Lane: LaneMachine, After: []string{"disinfect"}, Usual: 35, Tick: TickValue, Entry: "disinfection"},
		{ID: "wipe", Words: "Wipe surfaces, waste out, wash hands", Lane: LaneHands, After: []string{"disinfect"}, Usual: 4, Tick: TickDone},
		{ID: "close", Words: "Close the record", Lane: LaneHands, After: []string{"weigh_after", "wipe"}, Usual: 2, Tick: TickValue, Entry: "closed"},
	}}
}
