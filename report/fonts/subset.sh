#!/bin/sh
# Makes the two font subsets again from Debian's fonts-dejavu-core with
# Debian's python3-fonttools. Run in this folder.
set -eu

letters="U+0020-007E,U+00A0-024F,U+0259,U+1E00-1EFF"                      # Latin
letters="$letters,U+02BB-02BC,U+02C6-02C7,U+02D8-02DD"                    # spacing accents
letters="$letters,U+0300-0304,U+0306-030C,U+031B,U+0323,U+0326-0328"      # accents that join the letter before
letters="$letters,U+0384-03CE,U+0400-045F,U+0490-0491"                    # Greek, Cyrillic
signs="U+2010-2027,U+2030-203A,U+2044,U+2070-208E,U+20AC"                 # punctuation, raised and lowered figures
signs="$signs,U+2103,U+2109,U+2113,U+2116,U+2122,U+2126,U+2150-215E"      # °C, №, fractions
signs="$signs,U+2190-2199,U+21BA-21BB"                                    # arrows
signs="$signs,U+2206,U+2211-2212,U+2215,U+221A,U+221E,U+2248,U+2260,U+2264-2265"
signs="$signs,U+25A0-25A1,U+25AA-25AC,U+25B2-25B3,U+25B6-25B7,U+25BC-25BD,U+25C0,U+25C6-25C7,U+25CB,U+25CF"
signs="$signs,U+2605-2606,U+260E,U+2610-2612,U+2639-263A,U+2640,U+2642,U+2665,U+26A0,U+2713-2714,U+2717-2718,U+FFFD"

for face in Sans Sans-Bold; do
	/usr/bin/python3 -m fontTools.subset "/usr/share/fonts/truetype/dejavu/DejaVu$face.ttf" \
		--unicodes="$letters,$signs" --layout-features='' --no-hinting --notdef-outline \
		--drop-tables+=GSUB,GPOS,GDEF,kern,FFTM,MATH,gasp --no-recalc-timestamp \
		--output-file="DejaVu$face.ttf"
done
