#!/usr/bin/env bash
# Puts manual pages and completions, made by the built program itself, into a folder.
# Usage: packaging/pages.sh PROGRAM FOLDER
set -euo pipefail
program=$1
folder=$2
mkdir -p "$folder/man" "$folder/completions"
"$program" manual --out "$folder/man" 2> /dev/null
# Without the name and the time of the file, so that the same pages give the same bytes.
gzip --force --best --no-name "$folder"/man/*.1
"$program" completions bash > "$folder/completions/loamwright"
"$program" completions zsh > "$folder/completions/_loamwright"
"$program" completions fish > "$folder/completions/loamwright.fish"
