package session

import (
	"fmt"

	"ebbline/unit"
)

// A goal is dialled in as the machine's own field shows it: in litres or
// millilitres, with so many digits, in steps. These functions go between that
// and millilitres.

// FieldStep gives the smallest change of the goal that the machine's field can
// show and take, in mL: its step, and never finer than its last digit.
func (m Machine) FieldStep() unit.Volume {
	digit := m.lastDigit()
	if m.GoalStep == nil || *m.GoalStep <= 0 {
		return digit
	}
	return lcm(*m.GoalStep, digit)
}

// lastDigit is what one in the last digit of the field stands for.
func (m Machine) lastDigit() unit.Volume {
	if m.GoalUnit == "mL" {
		return 1
	}
	v := unit.Volume(1000)
	for range min(max(m.GoalDecimals, 0), 3) {
		v /= 10
	}
	return v
}

func lcm(a, b unit.Volume) unit.Volume {
	x, y := a, b
	for y != 0 {
		x, y = y, x%y
	}
	return a / x * b
}

// ShowGoal writes a volume as the machine's goal field shows it, with its
// unit: "3.20 L" or "3200 mL". It refuses a volume that the field cannot show
// to the digit, because what is dialled in must be what is shown.
func (m Machine) ShowGoal(v unit.Volume) (string, error) {
	if v%m.lastDigit() != 0 {
		return "", unit.Refuse("goal_ml", v, fmt.Sprintf("a multiple of %s, the last digit of the machine's field", m.lastDigit().Text()))
	}
	return m.goalDigits(v) + "\u00a0" + m.goalUnit(), nil
}

func (m Machine) goalUnit() string {
	if m.GoalUnit == "mL" {
		return "mL"
	}
	return "L"
}

func (m Machine) goalDigits(v unit.Volume) string {
	if m.GoalUnit == "mL" {
		return v.String()
	}
	return unit.Litres(v).Digits(min(max(m.GoalDecimals, 0), 3))
}

// ReadGoal reads what a person typed off the machine's goal field, in the
// field's own unit. More digits than the program records are refused; a value
// no machine would show is not, because it must be put beside the plan.
func (m Machine) ReadGoal(typed string) (unit.Volume, error) {
	if m.GoalUnit == "mL" {
		var v unit.Volume
		err := v.UnmarshalText([]byte(typed))
		return v, err
	}
	var v unit.Litres
	err := v.UnmarshalText([]byte(typed))
	return unit.Volume(v), err // litres are recorded to the mL
}

// floorTo rounds down to a step.
func floorTo(v, step unit.Volume) unit.Volume { return v - v%step }
