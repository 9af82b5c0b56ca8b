package chart

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// A column is one series as figures.
type column struct {
	name   string
	values []shown
}

// shown is one value in print; rank orders values, and a missing one says why
// in text.
type shown struct {
	at      time.Time
	rank    float64
	text    string
	missing bool
}

func (c *Lines) columns() []column {
	var out []column
	for _, r := range c.Series {
		k := column{name: r.Name}
		for _, v := range r.Readings {
			k.add(v.At, v.Value, figure(v.Value, c.Decimals), v.missing(), v.Gap)
		}
		out = append(out, k)
	}
	for _, r := range c.Ranges {
		k := column{name: r.Name}
		for _, v := range r.Between {
			k.add(v.At, v.High, figure(v.High, c.Decimals)+"/"+figure(v.Low, c.Decimals), v.missing(), v.Gap)
		}
		out = append(out, k)
	}
	return out
}

func (k *column) add(at time.Time, rank float64, text string, missing bool, gap string) {
	if missing {
		text = gap
		if gap == "" {
			text = "not recorded"
		}
	}
	k.values = append(k.values, shown{at, rank, text, missing})
}

// extremes are the lowest and the highest value and how many there are.
func (k *column) extremes() (lo, hi shown, n int) {
	for _, v := range k.values {
		if v.missing {
			continue
		}
		if n == 0 || v.rank < lo.rank {
			lo = v
		}
		if n == 0 || v.rank > hi.rank {
			hi = v
		}
		n++
	}
	return lo, hi, n
}

// inWords fills the description and the table: for each series how many
// values and the extremes; for each instant one row.
func (p *plot) inWords(columns []column, unit string, band *Band) {
	var say []string
	if !p.from.IsZero() && p.to.After(p.from) {
		say = append(say, fmt.Sprintf("From %s to %s.", p.clock(p.from), p.clock(p.to)))
	}
	p.Table.Head = []string{"Time"}
	var instants []time.Time
	for _, k := range columns {
		p.Table.Head = append(p.Table.Head, strings.TrimSpace(k.name+" "+unit))
		name := k.name
		if name == "" {
			name = p.Title
		}
		switch lo, hi, n := k.extremes(); {
		case n == 0:
			say = append(say, name+": no values.")
		case lo.text == hi.text:
			say = append(say, fmt.Sprintf("%s: %s, %s %s.", name, count(n, "value"), lo.text, unit))
		default:
			say = append(say, fmt.Sprintf("%s: %s, lowest %s, highest %s %s.", name, count(n, "value"), lo.text, hi.text, unit))
		}
		for _, v := range k.values {
			instants = append(instants, v.at)
		}
	}
	if band != nil && band.Word != "" {
		say = append(say, "Band: "+band.Word+".")
	}
	p.Desc = strings.Join(say, " ")

	slices.SortFunc(instants, time.Time.Compare)
	for _, at := range slices.CompactFunc(instants, time.Time.Equal) {
		p.Table.Rows = append(p.Table.Rows, rowsAt(p.clock(at), at, columns)...)
	}
}

// rowsAt are the rows of one instant: one, or as many as a series has values then.
func rowsAt(clock string, at time.Time, columns []column) (rows [][]string) {
	for i, k := range columns {
		n := 0
		for _, v := range k.values {
			if !v.at.Equal(at) {
				continue
			}
			if n == len(rows) {
				rows = append(rows, make([]string, 1+len(columns)))
				rows[n][0] = clock
			}
			rows[n][1+i] = v.text
			n++
		}
	}
	return rows
}
