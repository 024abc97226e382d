#!/usr/bin/python3
"""Cuts Noto Sans down to the letters that the app shows: cut-fonts.py OUT_FOLDER

Writes tawny-regular.ttf and tawny-bold.ttf with the letters of the language tables, and the whole alphabet of each
of those languages: people type names and notes, too. Noto Sans has no arrows and no signs of comparison: those come
from Noto Sans Math, which has the same grid. Shaping tables and hinting go, since the renderer uses neither.
"""
import glob
import json
import os
import sys
import unicodedata

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

NOTO = "/usr/share/fonts/truetype/noto"
LANGUAGES = os.path.join(os.path.dirname(os.path.abspath(__file__)), "languages")

# ASCII, and Latin-1, which has the letters of Spanish and Portuguese and those of many names beside.
ALWAYS = [(0x20, 0x7E), (0xA0, 0xFF)]
# Vietnamese: every vowel with every tone, and the letter d with its bar.
VOWELS = "aăâeêioôơuưy"
TONES = ["", "\u0300", "\u0309", "\u0303", "\u0301", "\u0323"]
# What the program puts in by itself: dashes, quotes, dots, small figures; micro as keyboards for Greek type it.
SHOWN_BY_WIDGETS = [(0x3BC, 0x3BC), (0x2010, 0x2015), (0x2018, 0x201E), (0x2022, 0x2022), (0x2026, 0x2026)]
SHOWN_BY_WIDGETS += [(0x2080, 0x2089), (0x20AC, 0x20AC)]
SIGNS = [
    (0x2190, 0x2193),  # arrows
    (0x2212, 0x2212),  # minus
    (0x2248, 0x2248),  # about
    (0x2264, 0x2265),  # at most, at least
]


def codes(ranges):
    return {code for first, last in ranges for code in range(first, last + 1)}


def alphabet():
    small = "đ" + "".join(unicodedata.normalize("NFC", vowel + tone) for vowel in VOWELS for tone in TONES)
    return {ord(letter) for letter in small + small.upper()}


def letters_of_tables():
    letters = set()
    for path in glob.glob(os.path.join(LANGUAGES, "*.json")):
        with open(path, encoding="utf-8") as file:
            for words in json.load(file).values():
                for text in words.values() if isinstance(words, dict) else [words]:
                    letters.update(ord(letter) for letter in text)
    return letters - {ord("\n")}


def subset(file, wanted):
    options = Options()
    options.hinting = False
    options.layout_features = []
    options.drop_tables += ["GSUB", "GPOS", "GDEF", "MATH", "kern"]
    options.name_IDs = [1, 2, 13, 14]  # family, style and the licence
    options.notdef_outline = True
    options.glyph_names = False
    font = TTFont(f"{NOTO}/{file}", recalcTimestamp=False)
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=wanted)
    subsetter.subset(font)
    return font


def add_glyphs(font, extra):
    """Copies every encoded glyph of `extra` that `font` has no code for."""
    if font["head"].unitsPerEm != extra["head"].unitsPerEm:
        sys.exit("the fonts differ in their grid")
    known = font.getBestCmap()
    for code, name in sorted(extra.getBestCmap().items()):
        if code in known:
            continue
        glyph = extra["glyf"][name]
        if glyph.isComposite():
            sys.exit(f"U+{code:04X} is composed of other glyphs: copy those too")
        new_name = f"uni{code:04X}"
        font["glyf"][new_name] = glyph
        font["hmtx"][new_name] = extra["hmtx"][name]
        for table in font["cmap"].tables:
            if table.isUnicode():
                table.cmap[code] = new_name


def check(font, file, wanted):
    cmap = font.getBestCmap()
    missing = [f"U+{code:04X}" for code in sorted(wanted) if code not in cmap]
    if missing:
        sys.exit(f"{file} lacks {' '.join(missing)}")
    if len({font["hmtx"][cmap[code]][0] for code in range(0x30, 0x3A)}) != 1:
        sys.exit(f"{file}: digits differ in width, columns of numbers would not line up")


def main(out):
    signs = codes(SIGNS)
    text = (codes(ALWAYS + SHOWN_BY_WIDGETS) | alphabet() | letters_of_tables()) - signs
    for source, target in (("NotoSans-Regular.ttf", "tawny-regular.ttf"), ("NotoSans-Bold.ttf", "tawny-bold.ttf")):
        font = subset(source, text)
        add_glyphs(font, subset("NotoSansMath-Regular.ttf", signs))
        check(font, source, text | signs)
        font.save(os.path.join(out, target))


main(sys.argv[1])
