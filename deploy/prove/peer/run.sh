#!/usr/bin/env bash
# Works one field out by the engine and by plain Monte Carlo on numpy arrays, side by side, three
# times over, and prints the medians, their ratio, and how far the figures lie apart. Needs numpy
# (Debian: python3-numpy).
#
#   ./deploy/prove/peer/run.sh
set -euo pipefail
cd "$(dirname "$(readlink -f "${BASH_SOURCE[0]}")")/../../.."
python=/usr/bin/python3
"$python" -c 'import numpy' 2>/dev/null || {
  echo "numpy is missing: apt-get install python3-numpy" >&2
  exit 1
}
folder=$(mktemp -d)
trap 'rm -r "$folder"' EXIT
go build -o "$folder/speed" ./deploy/prove/speed
case=testdata/evaluate/pea-all-plans-priced.json
for round in 1 2 3; do
  "$folder/speed" -rounds 200 "$case" >"$folder/engine.$round"
  "$python" deploy/prove/peer/compare.py ratio "$folder/engine.$round" >"$folder/ratio"
  OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1 "$python" deploy/prove/peer/montecarlo.py \
    "$(cat "$folder/ratio")" 20 >"$folder/numpy.$round"
done
"$python" deploy/prove/peer/compare.py compare "$folder"
