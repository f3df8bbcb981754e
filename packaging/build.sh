#!/usr/bin/env bash
# Builds an archive for Linux or macOS with the program, its pages, examples and licence, and its checksum.
# Usage: packaging/build.sh [TARGET]; without TARGET for this machine.
set -euo pipefail
cd "$(dirname "$0")/.."
host=$(rustc -vV | sed -n 's/^host: //p')
target=${1:-$host}
version=$(cargo pkgid --locked | sed 's/.*[#@]//')
out=${CARGO_TARGET_DIR:-target}
if [ "$target" = "$host" ]; then
  cargo build --release --locked
  built=$out/release
else
  cargo build --release --locked --target "$target"
  built=$out/$target/release
fi
name=loamwright-$version-$target
folder=$out/dist/$name
rm -rf "$folder"
mkdir -p "$folder"
cp "$built/loamwright" README.md CHANGELOG.md LICENSE "$folder"
cp -R examples "$folder/examples"
# Pages are printed by the program, which only runs on its own kind of machine.
if [ "$target" = "$host" ]; then
  packaging/pages.sh "$folder/loamwright" "$folder"
fi
tar -C "$out/dist" -czf "$out/dist/$name.tar.gz" "$name"
cd "$out/dist"
if command -v sha256sum > /dev/null; then
  sha256sum "$name.tar.gz" > "$name.tar.gz.sha256"
else
  shasum -a 256 "$name.tar.gz" > "$name.tar.gz.sha256"
fi
cat "$name.tar.gz.sha256"
