"""Makes the fonts of this folder out of two packed npm packages; `cargo xtask fonts` runs it.

    make.py PACKED_B612 PACKED_DEJAVU FOLDER

B612 is opened up from woff2 to TTF with all its signs. The supplement is cut from DejaVu Sans: the
signs that we print and B612 lacks, and letters of other languages for the names that owners give.
Hints and tables for screens of old are left out, and so is kerning: a text is as wide as the sum
of its signs, on paper, on the page and in our own measuring. The same packages give the same bytes.
"""

import io
import sys
import tarfile
from pathlib import Path

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

FACES = {
    "B612-Regular.ttf": "b612-latin-400-normal.woff2",
    "B612-Bold.ttf": "b612-latin-700-normal.woff2",
    "B612-Italic.ttf": "b612-latin-400-italic.woff2",
}

# What the program and its documents print, beside letters.
SIGNS = (
    "⅛⅜⅝⅞⅓⅔⁄∕≤≥≈≠∞∂Σ∑√⌀→←↔⇣⇡↕∶⋅∫∝∈⊥⁰⁴⁵⁶⁷⁸⁹⁻₀₁₂₃₄₅₆₇₈₉ˣ℃℉Ω"
    "◆◖●▫○□◇▸▾▴◂✓✗⋈▽△─│┃╭╰\u2007\u2009\u200a\u202f\u2010\u2011\ufffd"
)
LETTERS = [
    *range(0x0100, 0x0180),  # Latin Extended-A
    *range(0x0218, 0x021C),  # Romanian
    *range(0x0386, 0x03CF),  # Greek
    *range(0x0400, 0x0460),  # Cyrillic
]


def cut(font: TTFont, signs: set[int]) -> TTFont:
    options = Options()
    options.hinting = False
    options.layout_features = []
    options.notdef_outline = True
    options.glyph_names = False
    options.name_IDs = [0, 1, 2, 3, 4, 5, 6, 13, 14]
    options.name_languages = [0x409]
    options.drop_tables += ["VDMX", "hdmx", "GPOS", "GSUB", "GDEF", "kern", "FFTM", "gasp"]
    options.recalc_timestamp = False
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=signs)
    subsetter.subset(font)
    return font


def unpack(packed: str, name: str) -> bytes:
    with tarfile.open(packed) as archive:
        member = archive.extractfile(f"package/{name}")
        assert member is not None, name
        return member.read()


def opened(data: bytes) -> TTFont:
    return TTFont(io.BytesIO(data), recalcTimestamp=False)


def main() -> None:
    b612, dejavu, folder = sys.argv[1], sys.argv[2], Path(sys.argv[3])
    held: set[int] = set()
    for name, source in FACES.items():
        font = opened(unpack(b612, f"files/{source}"))
        font.flavor = None
        held = set(font.getBestCmap()) & (held or set(font.getBestCmap()))
        cut(font, set(font.getBestCmap())).save(folder / name)
    font = opened(unpack(dejavu, "ttf/DejaVuSans.ttf"))
    wanted = ({ord(sign) for sign in SIGNS} | set(LETTERS)) - held
    supplement = cut(font, wanted)
    for record in supplement["name"].names:
        if record.nameID in (1, 4):
            record.string = "Hosewright Signs"
        elif record.nameID == 6:
            record.string = "HosewrightSigns"
        elif record.nameID == 3:
            record.string = "Hosewright Signs, cut from DejaVu Sans 2.37"
    supplement.save(folder / "HosewrightSigns.ttf")
    (folder / "B612-OFL.txt").write_bytes(unpack(b612, "LICENSE"))
    (folder / "DejaVu-LICENSE.txt").write_bytes(unpack(dejavu, "LICENSE"))


if __name__ == "__main__":
    main()
