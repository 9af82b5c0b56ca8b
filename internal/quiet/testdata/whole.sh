#!/usr/bin/env bash
# Everything of "Quiet, and true events" in docs/performance.md: the tables with what
# two earlier versions said, and other scatters. Run it in the repository; it takes
# some minutes.
set -euo pipefail
cd "$(git rev-parse --show-toplevel)"
for commit in d738814 9114b29; do
  echo "== with $commit in the first row"
  internal/quiet/testdata/first.sh "$commit" "$@"
done
echo "== other scatters, and more lives"
CGO_ENABLED=0 go run ./internal/quiet -scatter
