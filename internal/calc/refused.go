package calc

import (
	"errors"
	"strconv"

	"ebbline/unit"
)

// refused words a room's refusal as the one problem of the input; any other
// error passes as it is.
func refused(err error) error {
	if ie := (*unit.InputError)(nil); errors.As(err, &ie) {
		return Problems{ie.Error()}
	}
	return err
}

// sig writes a figure with n significant digits, for explanations only; the
// answer itself is not rounded.
func sig(v float64, n int) string { return strconv.FormatFloat(v, 'g', n, 64) }
