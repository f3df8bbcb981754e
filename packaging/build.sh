#!/usr/bin/env bash
# Builds an archive with the program, its pages, examples and licence, and its checksum.
# Usage: packaging/build.sh [TARGET]; without TARGET for this machine. For Windows the archive is a zip.
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
case $target in
  *-windows-*) program=loamwright.exe ;;
  *) program=loamwright ;;
esac
name=loamwright-$version-$target
folder=$out/dist/$name
rm -rf "$folder"
mkdir -p "$folder"
cp "$built/$program" README.md CHANGELOG.md LICENSE "$folder"
cp -R examples "$folder/examples"
# Pages are printed by the program, which only runs on its own kind of machine.
if [ "$target" = "$host" ]; then
  packaging/pages.sh "$folder/loamwright" "$folder"
fi
cd "$out/dist"
if [ "$program" = loamwright.exe ]; then
  archive=$name.zip
  rm -f "$archive"
  zip -qr "$archive" "$name"
else
  archive=$name.tar.gz
  tar -czf "$archive" "$name"
fi
if command -v sha256sum > /dev/null; then
  sha256sum "$archive" > "$archive.sha256"
else
  shasum -a 256 "$archive" > "$archive.sha256"
fi
cat "$archive.sha256"
