package record

import "ebbline/session"

// yesNo is a question whose blank is not a no.
func yesNo(key, label string) Field {
	return field(key, label).from(session.Yes, "yes", session.No, "no").read()
}

func batchKinds() []*Kind {
	conduct := func(key, label string) Field {
		return field(key, label).refuse(10, 17).ask(12.5, 15.5).read()
	}
	return []*Kind{
		of[session.BatchMade](Kind{Name: "batch_made", Title: "Batch made", House: true, Check: checkBatchMade,
			Doc: "Fluid made from tap water beforehand; its moment is when it was made. What is tested of it counts for each session from it."},
			field("name", "Name or number, your own").long(40),
			field("use_within_h", "To be used within").refuse(1, 240).ask(4, 120).doc("hours from being made, as your unit or the label says"),
			field("conductivity_low_ms_cm", "Its conductivity, from").refuse(10, 17).ask(12.5, 15.5).doc("the range that your unit or the label gives"),
			field("conductivity_high_ms_cm", "Its conductivity, to").refuse(10, 17).ask(12.5, 15.5),
			field("label_k_mmol_l", "Potassium on the label").refuse(0, 5).read(),
			field("label_ca_mmol_l", "Calcium on the label").refuse(0, 3).read(),
			lot(), expiry(),
			field("made_l", "Made, in litres").refuse(1, 500).ask(20, 120),
		),
		of[session.BatchTested](Kind{Name: "batch_tested", Title: "Batch tested", House: true, Check: checkBatchTested,
			Doc: "Total chlorine of the water of a batch, its conductivity, or both. In a session the same is written as chlorine or fluid_check."},
			field("batch_id", "Batch").long(64).doc("the entry of the batch that was made"),
			field("total_chlorine_mg_l", "Total chlorine").refuse(0, 5).ask(0, 0.1).read(),
			field("below", "Read as “less than” this"),
			field("method", "Method").long(60),
			field("reads_down_to_mg_l", "Smallest step it can read").refuse(0.005, 5),
			lot(), expiry(),
			field("sample_point", "Drawn after").from("first_carbon", "the first carbon", "second_carbon", "the second carbon", "product", "the water at the machine"),
			conduct("machine_conductivity_ms_cm", "Machine, conductivity"),
			conduct("meter_conductivity_ms_cm", "Own meter, conductivity"),
			field("temperature_c", "Temperature it was read at").refuse(5, 45).read(),
		),
		of[session.BatchUsed](Kind{Name: "batch_used", Title: "From this batch", Session: true, Check: checkBatchUsed,
			Doc: "The batch that the fluid of this session comes from."},
			field("batch_id", "Batch").long(64).doc("the entry of the batch that was made"),
		),
	}
}

func checkBatchMade(c *Checker) {
	b := c.Entry.Body.(*session.BatchMade)
	switch {
	case (b.CondLow == nil) != (b.CondHigh == nil):
		c.Refuse("conductivity_high_ms_cm", "and the lower end belong together: type both, or neither")
	case b.CondLow != nil && *b.CondHigh <= *b.CondLow:
		c.Refuse("conductivity_high_ms_cm", "is not over the lower end, %s", b.CondLow.Text())
	}
	if (b.K == nil) != (b.Ca == nil) {
		c.Refuse("label_ca_mmol_l", "and potassium belong together: type both from the label, or neither")
	}
}

func checkBatchTested(c *Checker) {
	b := c.Entry.Body.(*session.BatchTested)
	made := c.batch(b.Batch)
	switch {
	case made == nil:
		return
	case c.Entry.At.Before(made.At):
		c.Refuse("at", "lies before the batch was made, %s", c.clock(made.At))
	case b.Result == nil && b.MachineConduct == nil && b.MeterConduct == nil:
		c.Refuse("total_chlorine_mg_l", "and both conductivities are still blank: type what was measured")
	case c.runsOn(made.ID):
		c.Refuse("batch_id", "is what a session runs on now: write the test in that session, as total chlorine or conductivity, where it is said at once")
	}
}

// runsOn reports whether a treatment ran on a batch at the time of an entry and is still
// open: what is wrong with its fluid is said only of what the session itself holds.
func (c *Checker) runsOn(batch string) bool {
	for _, m := range c.House.People {
		s := m.Open()
		if s == nil || s.Phase() != session.Running {
			continue
		}
		began, _ := s.Began()
		if used, _ := session.Last[session.BatchUsed](s); used != nil && used.Batch == batch && !c.Entry.At.Before(began) {
			return true
		}
	}
	return false
}

func checkBatchUsed(c *Checker) {
	b := c.Entry.Body.(*session.BatchUsed)
	made := c.batch(b.Batch)
	if made == nil {
		return
	}
	switch {
	case c.Session.Machine.Fluid() != session.FluidBatch:
		c.Refuse("batch_id", "does not go with this machine: its fluid is not a made batch")
	case !c.House.machineAt(made.place).IsOne(c.Session.Machine):
		c.Refuse("batch_id", "was made for another machine")
	case c.Entry.At.Before(made.At):
		c.Refuse("batch_id", "was made after that, %s", c.clock(made.At))
	case c.Session.Phase() == session.Running && !c.paper():
		c.askRight("batch_id", "is another fluid while the treatment runs. Look at its label, its use-by and its tests; wrong or untested, ring your unit")
	}
}

// batch is the batch that an entry names, as it stands now; nil, and refused, where
// there is none that counts.
func (c *Checker) batch(id string) *Dated[session.BatchMade] {
	made := c.House.batch(id)
	switch {
	case made == nil:
		c.Refuse("batch_id", "%s is no batch in this record", quote(id))
	case made.Struck != nil && c.Entry.Corrects == "":
		c.Refuse("batch_id", "names a batch that was struck out")
		return nil
	}
	return made
}
