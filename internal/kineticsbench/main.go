// Kineticsbench times the two-pool urea model in its steady state against
// general integrators on the same cases at the same accuracy, in one run:
//
//	go run ./internal/kineticsbench
//
// Every route finds the steady state with one pass through the cycle and a 2×2
// equation, and is given the loosest setting of a short ladder with which no
// figure of any reference case is off by more than 1e-8. A peer that is not
// installed is said to be missing.
package main

import (
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"runtime"
	"strconv"
)

// accuracy is what every route must reach.
const accuracy = 1e-8

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

func run(args []string, out, complain io.Writer) int {
	flags := flag.NewFlagSet("kineticsbench", flag.ContinueOnError)
	flags.SetOutput(complain)
	cases := flags.String("cases", "kinetics/testdata/week-cases.json", "the reference cases")
	if err := flags.Parse(args); err != nil {
		return 2
	}
	if err := compare(*cases, out); err != nil {
		fmt.Fprintln(complain, "kineticsbench:", err)
		return 1
	}
	return 0
}

func compare(cases string, out io.Writer) error {
	problems, err := readProblems(cases)
	if err != nil {
		return err
	}
	dir, err := os.MkdirTemp("", "kineticsbench")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)

	own, err := ours(problems)
	if err != nil {
		return err
	}
	results := []result{own}
	var missing []string
	plain, err := loosest([]float64{4, 2, 1, 0.5, 0.25}, func(step float64) (result, error) { return rk4(problems, step) })
	if err != nil {
		return err
	}
	results = append(results, plain)
	for _, c := range []struct {
		name    string
		find    func(string) (peer, error)
		methods []string
	}{
		{"CVODE", cvodePeer, []string{"bdf", "adams"}},
		{"SciPy", scipyPeer, []string{"odeint", "LSODA", "DOP853"}},
	} {
		p, err := c.find(dir)
		if err != nil {
			missing = append(missing, c.name+" is "+err.Error()+".")
			continue
		}
		for _, method := range c.methods {
			r, err := loosest([]float64{1e-7, 1e-8, 1e-9, 1e-10, 1e-11, 1e-12}, func(tol float64) (result, error) { return p.run(problems, method, tol) })
			if err != nil {
				return err
			}
			results = append(results, r)
		}
	}
	table(out, problems, results)
	for _, m := range missing {
		fmt.Fprintln(out, m)
	}
	return nil
}

// loosest goes down a ladder of settings to the first that is accurate enough.
func loosest(ladder []float64, try func(float64) (result, error)) (result, error) {
	var last result
	for _, setting := range ladder {
		r, err := try(setting)
		if err != nil {
			return r, err
		}
		if last = r; r.worst <= accuracy {
			break
		}
	}
	return last, nil
}

func table(out io.Writer, problems []problem, results []result) {
	own := results[0]
	other := len(problems) - 1
	fmt.Fprintf(out, "%d cases; %s, %s/%s, one thread; times are the least of several runs.\n\n", len(problems)-1, runtime.Version(), runtime.GOOS, runtime.GOARCH)
	fmt.Fprintln(out, "| route | setting | worst error | all cases, mean µs | × | 3 sessions, fluid from outside, µs | × | 3 sessions, from both, µs | × |")
	fmt.Fprintln(out, "|---|---|---|---|---|---|---|---|---|")
	for _, r := range results {
		setting := r.setting
		if r.worst > accuracy {
			setting += " (does not reach 1e-8)"
		}
		fmt.Fprintf(out, "| %s | %s | %.1e |", r.route, setting, r.worst)
		for _, pair := range [][2]float64{
			{r.mean(problems), own.mean(problems)}, {r.seconds[0], own.seconds[0]}, {r.seconds[other], own.seconds[other]},
		} {
			fmt.Fprintf(out, " %s | %s |", figure(1e6*pair[0]), figure(pair[0]/pair[1]))
		}
		fmt.Fprintln(out)
	}
	fmt.Fprintln(out)
}

// figure writes three significant digits without an exponent.
func figure(v float64) string {
	decimals := 2 - int(math.Floor(math.Log10(v)))
	if decimals < 0 {
		round := math.Pow10(-decimals)
		return strconv.FormatFloat(math.Round(v/round)*round, 'f', 0, 64)
	}
	return strconv.FormatFloat(v, 'f', decimals, 64)
}
