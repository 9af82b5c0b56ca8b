#!/usr/bin/env bash
# Judges the lives of internal/quiet by an earlier version of the program, and prints
# the tables with what it said in their first row. Run it in the repository:
#
#   internal/quiet/testdata/first.sh COMMIT [FLAGS OF QUIET...]
set -euo pipefail
cd "$(git rev-parse --show-toplevel)"
commit=${1:?which commit}
shift
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
export CGO_ENABLED=0
mkdir -p "$work/tree"
git archive "$commit" | tar -x -C "$work/tree"
mkdir -p "$work/tree/internal/first"
cp internal/quiet/testdata/first.go.txt "$work/tree/internal/first/main.go"
# What is a look now had another name once.
grep -q '\bAmber\b' "$work/tree"/session/*.go || sed -i 's/session\.Amber/session.Look/' "$work/tree/internal/first/main.go"
(cd "$work/tree" && go build -o "$work/first" ./internal/first)
go run ./internal/quiet -write "$work/lives" "$@" >/dev/null
"$work/first" <"$work/lives" >"$work/said" 2>"$work/left"
sort "$work/left" | uniq >&2
go run ./internal/quiet -first "$work/said" "$@"
