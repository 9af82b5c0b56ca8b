// Package kinetics says what sessions do to solutes: urea in its several
// Kt/V, protein, phosphate, residual clearance, body water, and the dialyser
// that does it.
//
// There are two ways to a dose. The algebra ([SinglePool], [Equilibrated],
// [StandardKtV] and their kin) takes two blood samples and gives the figure
// that guidelines speak of. The model ([Pools]) holds urea in two pools of
// water and follows it minute by minute: [Pools.Steady] through a schedule
// that repeats, [Pools.Follow] through the sessions that really happened. It
// needs the person's urea volume and generation, which [FitThree] and
// [FitSteady] find from blood samples, and [EstimatePerson] from months of
// them with honest ranges.
//
// Concentrations that enter by hand are [unit.Urea]; inside the model urea is
// counted as urea nitrogen in mg/mL. Derived figures are float64 with their
// unit in the name. Every formula names its source beside it; "(from memory)"
// after a source says that the paper was not re-read when it was written down.
// Nothing here returns a NaN or an infinity: what cannot be answered is
// refused with a [*unit.InputError] that says what is accepted.
package kinetics
