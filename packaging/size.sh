#!/usr/bin/env bash
# Fails when the release program is larger than what DEVELOPERS.md promises. Builds it when it is not there.
set -euo pipefail
cd "$(dirname "$0")/.."
limit_mb=12
program=${CARGO_TARGET_DIR:-target}/release/loamwright
[ -e "$program" ] || cargo build --release --locked
bytes=$(wc -c < "$program")
echo "loamwright: $bytes bytes, at most $((limit_mb * 1000000))"
if [ "$bytes" -gt $((limit_mb * 1000000)) ]; then
  echo "too large: see what grew with 'cargo bloat --release --crates', or raise the limit here and in DEVELOPERS.md" >&2
  exit 1
fi
