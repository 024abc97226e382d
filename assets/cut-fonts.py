#!/usr/bin/python3
"""Cuts Noto Sans down to the letters that the app shows: cut-fonts.py OUT_FOLDER

Writes tawny-regular.ttf and tawny-bold.ttf. The ranges cover the languages with Latin letters, Vietnamese among
them. Noto Sans has no arrows and no signs of comparison: those come from Noto Sans Math, which has the same grid.
Shaping tables and hinting go, since the renderer uses neither.
"""
import os
import sys

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

NOTO = "/usr/share/fonts/truetype/noto"

TEXT = [
    (0x20, 0x7E),
    (0xA0, 0x17F),
    (0x1A0, 0x1B0),
    (0x3BC, 0x3BC),  # micro, as keyboards for Greek type it
    (0x1E00, 0x1EFF),
    (0x2010, 0x2027),
    (0x202F, 0x205E),
    (0x2080, 0x2089),
    (0x20AB, 0x20AC),
]
SIGNS = [
    (0x2190, 0x2193),  # arrows
    (0x2212, 0x2212),  # minus
    (0x2248, 0x2248),  # about
    (0x2264, 0x2265),  # at most, at least
]


def codes(ranges):
    return [code for first, last in ranges for code in range(first, last + 1)]


def subset(file, ranges):
    options = Options()
    options.hinting = False
    options.layout_features = []
    options.drop_tables += ["GSUB", "GPOS", "GDEF", "MATH", "kern"]
    options.name_IDs = [1, 2, 13, 14]  # family, style and the licence
    options.notdef_outline = True
    options.glyph_names = False
    font = TTFont(f"{NOTO}/{file}", recalcTimestamp=False)
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=codes(ranges))
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


def check(font, file):
    cmap = font.getBestCmap()
    missing = [f"U+{code:04X}" for code in codes(TEXT + SIGNS) if code not in cmap]
    if missing:
        sys.exit(f"{file} lacks {' '.join(missing)}")
    if len({font["hmtx"][cmap[code]][0] for code in range(0x30, 0x3A)}) != 1:
        sys.exit(f"{file}: digits differ in width, columns of numbers would not line up")


def main(out):
    for source, target in (("NotoSans-Regular.ttf", "tawny-regular.ttf"), ("NotoSans-Bold.ttf", "tawny-bold.ttf")):
        font = subset(source, TEXT)
        add_glyphs(font, subset("NotoSansMath-Regular.ttf", SIGNS))
        check(font, source)
        font.save(os.path.join(out, target))


main(sys.argv[1])
