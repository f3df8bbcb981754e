#!/usr/bin/env bash
# Times the whole program against the floor at 100 to 100,000 beds and prints a table for DEVELOPERS.md.
# Needs hyperfine and GNU time. Usage: benches/compare.sh [sizes...]
set -euo pipefail
cd "$(dirname "$0")/.."
sizes=("$@"); [ ${#sizes[@]} -gt 0 ] || sizes=(100 1000 10000 100000)
cargo build --release --bins --example make_beds --example floor --example shape
bin=${CARGO_TARGET_DIR:-target}/release
work=$(mktemp -d); trap 'rm -rf "$work"' EXIT
peak() { /usr/bin/time -f %M "$@" 2>&1 >/dev/null | tail -1; }
seconds() { python3 -c "import json,sys; r=json.load(open('$work/$1.json'))['results']; print(r[$2]['median'])"; }
echo "| beds | floor s | floor MB | loamwright s | loamwright MB | time ratio | ms a bed |"
echo "|---|---|---|---|---|---|---|"
for n in "${sizes[@]}"; do
  "$bin/examples/make_beds" "$n" "$work/beds.xlsx"
  "$bin/loamwright" "$work/beds.xlsx" --quiet --force --out "$work/out"
  "$bin/examples/shape" "$work/out/estimate.xlsx" "$work/shape"
  runs=5; [ "$n" -lt 100000 ] || runs=3
  floor=("$bin/examples/floor" "$work/beds.xlsx" "$work/shape" "$work/floor.xlsx")
  ours=("$bin/loamwright" "$work/beds.xlsx" --quiet --force --out "$work/out")
  hyperfine -N --warmup 1 --runs "$runs" --export-json "$work/times.json" "${floor[*]}" "${ours[*]}" >/dev/null 2>&1
  a=$(seconds times 0); b=$(seconds times 1)
  python3 - "$n" "$a" "$(peak "${floor[@]}")" "$b" "$(peak "${ours[@]}")" <<'PY'
import sys
n, a, am, b, bm = int(sys.argv[1]), float(sys.argv[2]), int(sys.argv[3]), float(sys.argv[4]), int(sys.argv[5])
print(f"| {n:,} | {a:.3f} | {am // 1024} | {b:.3f} | {bm // 1024} | {b / a:.2f} | {1000 * b / n:.3f} |")
PY
done
