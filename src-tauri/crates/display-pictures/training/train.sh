#!/bin/sh
# Trains both networks at once and writes them as ONNX: train.sh OUT [MINUTES]. Needs python3 with torch and onnx.
set -e
here=$(dirname "$0")
out=$1
minutes=${2:-26}
mkdir -p "$out"
cargo build --release --package display-pictures
generator=$(cargo metadata --format-version 1 --no-deps | python3 -c 'import json, sys; print(json.load(sys.stdin)["target_directory"])')/release/display-pictures
cores=$(nproc)
python3 "$here/train.py" lines --generator "$generator" --out "$out" --minutes "$minutes" --workers $((cores * 3 / 5 + 1)) &
python3 "$here/train.py" looks --generator "$generator" --out "$out" --minutes "$minutes" --workers $((cores * 2 / 5 + 1)) &
wait
python3 "$here/export.py" "$out" "$out"
