// Package chart draws the curves of the trade: the ebb of a session, its
// pressures, and months of values with the band the unit set.
//
// A chart is made from plain values and instants into a [Drawing], a list of
// lines, areas, points and words with nothing left to decide. The drawing is
// written out twice from that one list: as SVG for the page, where the
// stylesheet gives the colours, and onto the paper of a PDF. Both therefore
// show the same figures at the same places.
//
// Three rules hold in every chart. State is told by a word and a shape, and
// only then by a colour. A value that is missing is a gap, never a line drawn
// across. Time runs in instants, labelled in the zone it was lived in, so a
// night on which the clocks change shows both offsets and no hour twice.
package chart
