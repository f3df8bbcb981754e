#!/usr/bin/env bash
# Builds the Debian package for this machine's architecture. Needs `cargo install cargo-deb`, once.
set -euo pipefail
cd "$(dirname "$0")/.."
target=${CARGO_TARGET_DIR:-target}
cargo build --release --locked
# The package takes its pages from here; see [package.metadata.deb] in Cargo.toml.
rm -rf "$target/release/pages"
packaging/pages.sh "$target/release/loamwright" "$target/release/pages"
cargo deb --no-build --locked
packaging/size.sh
