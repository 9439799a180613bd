#!/usr/bin/env bash
# Makes the pictures of README.md anew from the examples. Needs poppler's pdftoppm and ImageMagick's convert.
set -euo pipefail
cd "$(dirname "$0")/../.."
made="$(mktemp -d)"
trap 'rm -r "$made"' EXIT

cargo build --release --quiet
program="${CARGO_TARGET_DIR:-target}/release/versefold"
for book in winter-bus winter-bus-prose winter-bus-he; do
  "$program" layers --quiet --out "$made/$book" "examples/$book"
done

# page PDF NUMBER WIDTH HEIGHT PNG: so many pixels of a panel from its trimmed top left corner, at 138 dpi.
page() {
  pdftoppm -gray -r 138 -f "$2" -l "$2" -x 16 -y 16 -W "$3" -H "$4" -singlefile -png "$1" "${5%.png}"
}

# small PNG... OUT: side by side, a hair line around each.
small() {
  local out="${*: -1}"
  convert "${@:1:$#-1}" -shave 1x1 -bordercolor '#888' -border 1 +append -strip -white-threshold 97% -colors 16 "PNG8:examples/pictures/$out"
}

for book in winter-bus winter-bus-he; do
  pdftoppm -gray -r 110 -singlefile -png "$made/$book/contact-sheet.pdf" "$made/$book"
done
convert "$made/winter-bus.png" -strip -colors 16 PNG8:examples/pictures/contact-sheet.png
convert "$made/winter-bus-he.png" -strip -colors 16 PNG8:examples/pictures/right-to-left.png

"$program" trials --quiet --most 3 --out "$made/trials" examples/winter-bus
pdftoppm -gray -r 110 -f 1 -l 1 -singlefile -png "$made/trials/trials.pdf" "$made/trials"
convert "$made/trials.png" -trim -bordercolor white -border 20 -strip -colors 16 PNG8:examples/pictures/trials.png

"$program" layers --quiet --out "$made/japanese" tests/books/japanese-justified

page "$made/winter-bus/layers/front-11.pdf" 1 571 491 "$made/panel.png"
small "$made/panel.png" panel.png
page "$made/winter-bus-prose/layers/front.pdf" 2 571 455 "$made/left.png"
page "$made/winter-bus-prose/layers/front.pdf" 3 571 455 "$made/right.png"
small "$made/left.png" "$made/right.png" prose.png
# This book has smaller panels.
page "$made/japanese/layers/front.pdf" 2 380 380 "$made/japanese.png"
small "$made/japanese.png" japanese.png

"$program" strip --quiet --out "$made/strip" examples/winter-bus
"$program" dummy --quiet --out "$made/dummy" examples/winter-bus
pdftoppm -r 45 -f 1 -l 1 -singlefile -png "$made/strip/strip/sheet-1.pdf" "$made/sheet"
pdftoppm -gray -r 75 -f 1 -l 1 -singlefile -png "$made/strip/strip/folding-guide.pdf" "$made/guide"
pdftoppm -gray -r 75 -f 1 -l 1 -singlefile -png "$made/dummy/dummy.pdf" "$made/page"
convert "$made/sheet.png" -bordercolor '#888' -border 1 -strip -colors 64 PNG8:examples/pictures/sheet.png
convert "$made/guide.png" -bordercolor '#888' -border 1 -strip -colors 16 PNG8:examples/pictures/folding-guide.png
convert "$made/page.png" -bordercolor '#888' -border 1 -strip -colors 16 PNG8:examples/pictures/dummy.png
