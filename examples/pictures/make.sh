#!/usr/bin/env bash
# Makes the pictures of the README anew from the examples' estimates, which are priced into a folder of
# their own. Needs LibreOffice with a font as wide as Calibri (Carlito), pdftoppm, and python3 with Pillow.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
root=$here/../..
program=${CARGO_TARGET_DIR:-$root/target}/debug/loamwright
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

# print EXAMPLE: its estimate as pages.
print() {
  "$program" "$root/examples/$1/job" --out "$work/$1" --quiet
  soffice -env:UserInstallation="file://$work/profile" --headless --convert-to pdf \
    --outdir "$work/$1" "$work/$1/estimate.xlsx" > /dev/null 2>&1
}

# picture NAME EXAMPLE SHEET INCHES: the first page of a sheet, from below its header down so many inches or
# a little less, so that no line is cut through; as wide as what stands there, in 32 colours.
picture() {
  local pdf=$work/$2/estimate.pdf page
  page=$(pdftotext -layout "$pdf" - | tr '\f' '\n' | sed -nE "s/.* $3 +Page ([0-9]+) of.*/\1/p" | head -1)
  pdftoppm -r 96 -f "$page" -singlefile -png "$pdf" "$work/page"
  python3 - "$work/page.png" "$here/$1.png" "$4" <<'PYTHON'
import sys
from PIL import Image, ImageOps

page, name, inches = sys.argv[1:]
full = Image.open(page).convert("RGB")
ink = ImageOps.invert(full)
top, last = int(0.55 * 96), int(float(inches) * 96)
while last > top and ink.crop((0, last - 1, full.width, last)).getbbox():
    last -= 1
left, first, right, end = ink.crop((0, top, full.width, last)).getbbox()
cut = full.crop((left - 8, top + first - 8, right + 8, top + end))
cut = ImageOps.expand(cut, (0, 0, 0, 8), "white")
cut.quantize(32, dither=Image.Dither.NONE).save(name, optimize=True)
PYTHON
}

print clinic-gardens
print learning-garden
print terrace-allotments
picture clinic-summary clinic-gardens Summary 8.8
picture clinic-cuts clinic-gardens "Cut list" 5.75
picture learning-hours learning-garden Hours 4.1
picture terrace-orders terrace-allotments Orders 4.5
