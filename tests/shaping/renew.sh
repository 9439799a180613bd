#!/bin/sh
# Writes the fixtures of this folder anew with HarfBuzz's own hb-shape (Debian's libharfbuzz-bin 6.0.0),
# which documents its output in `hb-shape --help` and in the HarfBuzz manual, "Command-line tools".
#
# The lines to shape stand in the folder lines, one a line: language|text. Those of mixed.txt have Latin words
# among the Cyrillic. `\uXXXX` stands for that character, so that decomposed letters survive editors.
# A fixture NAME.txt has the command in its first line and then, for each line and each set of features,
#
#     language|script|features|text => glyph=cluster+advance[@dx,dy] ...
#
# with the glyphs from left to right, clusters counted in bytes and all else in font units. Run it from anywhere:
# tests/shaping/renew.sh
set -eu
here=$(cd "$(dirname "$0")" && pwd)
fonts=$here/../../fonts-open
options="--no-glyph-names --utf8-clusters"

# plain FILE: its lines with the \uXXXX written out.
plain() {
    python3 -c 'import re, sys
for line in open(sys.argv[1], encoding="utf-8"):
    print(re.sub(r"\\u([0-9A-F]{4})", lambda m: chr(int(m[1], 16)), line), end="")' "$1"
}

# shape FONT SCRIPT TAG DIRECTION FEATURES: every line of SCRIPT.txt.
shape() {
    plain "$here/lines/$2.txt" | while IFS='|' read -r language text; do
        glyphs=$(hb-shape $options --language="$language" --script="$3" --direction="$4" \
            --features="$5" --text="$text" "$fonts/$1" |
            sed -E 's/^\[//; s/\]$//; s/@(-?[0-9]+,-?[0-9]+)\+(-?[0-9]+)/+\2@\1/g; y/|/ /')
        printf '%s|%s|%s|%s => %s\n' "$language" "$3" "$5" "$text" "$glyphs"
    done
}

# fixture NAME FONT "SCRIPT ..." "FEATURE ...": the fixture of a face.
fixture() {
    {
        printf '# %s: hb-shape %s --language=L --script=S --direction=D --features=F --text=T fonts-open/%s\n' \
            "$(hb-shape --version | head -n 1)" "$options" "$2"
        for script in $3; do
            direction=ltr
            case $script in
            latin | vietnamese) tag=Latn ;;
            greek) tag=Grek ;;
            cyrillic | mixed) tag=Cyrl ;;
            devanagari) tag=Deva ;;
            thai) tag=Thai ;;
            arabic) tag=Arab direction=rtl ;;
            hebrew) tag=Hebr direction=rtl ;;
            esac
            for feature in "" $4; do
                shape "$2" "$script" "$tag" "$direction" "$feature"
            done
        done
    } >"$here/$1.fixture"
    mv "$here/$1.fixture" "$here/$1.txt"
}

for style in Regular Italic Bold; do
    lower=$(echo "$style" | tr RIB rib)
    fixture "alegreya-$lower" "alegreya/Alegreya-$style.ttf" "latin vietnamese greek cyrillic mixed" "onum smcp"
    fixture "alegreya-sans-$lower" "alegreya-sans/AlegreyaSans-$style.ttf" "latin vietnamese greek cyrillic mixed" "onum smcp"
done
# It has neither old-style figures nor small capitals. Its alternates depend on all letters of a line, so that
# a line of two scripts, which we shape script by script, has others when it is taken for one of a single script.
fixture playpen-sans "playpen-sans/PlaypenSans-Regular.ttf" "latin cyrillic" ""
fixture amiri "amiri/Amiri-Regular.ttf" "arabic" ""
fixture noto-serif-hebrew "noto-serif-hebrew/NotoSerifHebrew-Regular.ttf" "hebrew" ""
fixture noto-serif-devanagari "noto-serif-devanagari/NotoSerifDevanagari-Regular.ttf" "devanagari" ""
fixture noto-serif-thai "noto-serif-thai/NotoSerifThai-Regular.ttf" "thai" ""
