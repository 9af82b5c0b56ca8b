package fonts

import (
	"encoding/binary"
	"errors"
	"fmt"
)

// metrics is what is read of a TrueType file: the advance of each character
// it can print, in its own units.
type metrics struct {
	unitsPerEm int
	advance    map[rune]int
}

func mustRead(file []byte) *metrics {
	m, err := readMetrics(file)
	if err != nil {
		panic("fonts: the embedded font cannot be read: " + err.Error())
	}
	return m
}

var errShort = errors.New("file too short")

// readMetrics reads the tables head, hhea, hmtx and cmap (its subtable of
// format 4, which covers the basic plane). Source: the OpenType
// specification 1.9, chapters of those names.
func readMetrics(file []byte) (m *metrics, err error) {
	defer func() { // one place for every index past the end
		if recover() != nil {
			m, err = nil, errShort
		}
	}()
	file = file[:len(file):len(file)] // a table that reaches past the end is an error, whatever lies behind
	u16 := func(b []byte, at int) int { return int(binary.BigEndian.Uint16(b[at:])) }
	table := map[string][]byte{}
	for i := range u16(file, 4) {
		rec := file[12+16*i:]
		from := binary.BigEndian.Uint32(rec[8:])
		table[string(rec[:4])] = file[from : from+binary.BigEndian.Uint32(rec[12:])]
	}
	sub, err := basicPlane(table["cmap"])
	if err != nil {
		return nil, err
	}
	m = &metrics{unitsPerEm: u16(table["head"], 18), advance: map[rune]int{}}
	longs, hmtx := u16(table["hhea"], 34), table["hmtx"]
	segs := u16(sub, 6) / 2
	ends, starts := sub[14:], sub[16+2*segs:]
	deltas, offsets := sub[16+4*segs:], sub[16+6*segs:]
	for s := range segs {
		for c := u16(starts, 2*s); c <= u16(ends, 2*s) && c != 0xFFFF; c++ {
			glyph := c
			if off := u16(offsets, 2*s); off != 0 {
				if glyph = u16(offsets, 2*s+off+2*(c-u16(starts, 2*s))); glyph == 0 {
					continue
				}
			}
			glyph = (glyph + u16(deltas, 2*s)) & 0xFFFF
			if glyph != 0 {
				m.advance[rune(c)] = u16(hmtx, 4*min(glyph, longs-1))
			}
		}
	}
	return m, nil
}

// basicPlane finds the format 4 subtable of a cmap.
func basicPlane(cmap []byte) ([]byte, error) {
	for i := range int(binary.BigEndian.Uint16(cmap[2:])) {
		sub := cmap[binary.BigEndian.Uint32(cmap[4+8*i+4:]):]
		if binary.BigEndian.Uint16(sub) == 4 {
			return sub, nil
		}
	}
	return nil, fmt.Errorf("no character table of format 4")
}
