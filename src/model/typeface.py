"""Makes the three faces the program carries: python3 src/model/typeface.py OUTDIR

Takes the DejaVu fonts that the system's package fonts-dejavu-core installs, keeps the characters a
packet may need, flattens composite glyphs (the PDF library loses nested accents otherwise), drops
hinting and layout tables, and gives the result names of its own, as the licence of the fonts asks
of changed copies. Writes OUTDIR/typeface_data.c. The same fonts give the same bytes: no date, no
path and no version of a tool gets in.
"""

import array
import io
import os
import sys

SYSTEM_PYTHON = "/usr/bin/python3"
try:
    from fontTools import subset
    from fontTools.pens.recordingPen import DecomposingRecordingPen
    from fontTools.pens.ttGlyphPen import TTGlyphPen
    from fontTools.ttLib import TTFont, newTable
    from fontTools.ttLib.tables.ttProgram import Program
except ImportError:  # a python of one's own stands before the system's, which has the library
    if os.path.realpath(sys.executable) == os.path.realpath(SYSTEM_PYTHON):
        raise
    os.execv(SYSTEM_PYTHON, [SYSTEM_PYTHON] + sys.argv)

FONTS = os.environ.get("SHEAF_FONTS", "/usr/share/fonts/truetype/dejavu")

# In the order of enum Face: name of ours, PostScript name, file it is made from.
FACES = [
    ("Sheaf Text", "SheafText", "DejaVuSans.ttf"),
    ("Sheaf Bold", "SheafBold", "DejaVuSans-Bold.ttf"),
    ("Sheaf Figures", "SheafFigures", "DejaVuSansMono-Bold.ttf"),
]

RANGES = [
    (0x0020, 0x007E),  # ASCII
    (0x00A0, 0x00FF),  # Latin-1
    (0x0100, 0x017F),  # Latin Extended-A
    (0x0218, 0x021B),  # Romanian S and T with comma
    (0x0237, 0x0237),  # dotless j
    (0x02C6, 0x02C7), (0x02D8, 0x02DD),  # free-standing accents
    (0x0384, 0x038A), (0x038C, 0x038C), (0x038E, 0x03A1), (0x03A3, 0x03CE), (0x03D5, 0x03D5),
    (0x0400, 0x045F), (0x0490, 0x0491),  # Cyrillic, with the Ukrainian G
    (0x1E00, 0x1EFF),  # Latin Extended Additional: Welsh, Vietnamese
    (0x2010, 0x2015), (0x2018, 0x201E), (0x2020, 0x2022), (0x2026, 0x2026),
    (0x2030, 0x2030), (0x2032, 0x2033), (0x2039, 0x203A), (0x2044, 0x2044),
    (0x2070, 0x2070), (0x2074, 0x2079), (0x207B, 0x207B), (0x2080, 0x2089),
    (0x20AC, 0x20AC), (0x2116, 0x2116), (0x2122, 0x2122), (0x2126, 0x2126),
    (0x2150, 0x215E),  # fractions
    (0x2190, 0x2195), (0x21BA, 0x21BB),
    (0x2205, 0x2206), (0x220F, 0x220F), (0x2211, 0x2213), (0x2215, 0x2215), (0x2219, 0x221A),
    (0x221E, 0x2220), (0x2225, 0x2225), (0x222B, 0x222B), (0x2248, 0x2248), (0x2260, 0x2261),
    (0x2264, 0x2265), (0x22A5, 0x22A5), (0x2300, 0x2300), (0x2316, 0x2316),
    (0x25A0, 0x25A1), (0x25AA, 0x25AB), (0x25B2, 0x25B3), (0x25B6, 0x25B7), (0x25BC, 0x25BD),
    (0x25C0, 0x25C1), (0x25C6, 0x25C7), (0x25CA, 0x25CB), (0x25CF, 0x25CF),
    (0x2610, 0x2612), (0x26A0, 0x26A0), (0x2713, 0x2714), (0x2717, 0x2718),
]

LICENCE = ("Made from a DejaVu font: Bitstream Vera Fonts Copyright (c) 2003 by Bitstream, Inc.; "
           "DejaVu changes are in public domain; glyphs imported from Arev fonts are "
           "Copyright (c) 2006 by Tavmjong Bah.")

# What the PDF library reads and writes; it insists on the hinting tables being there, so they
# stay, empty.
TABLES = {"head", "hhea", "maxp", "OS/2", "hmtx", "cmap", "loca", "glyf", "name", "post",
          "cvt ", "fpgm", "prep"}


def wanted_codes():
    return [code for first, last in RANGES for code in range(first, last + 1)]


def subset_font(path):
    """The font at path with the wanted characters only."""
    options = subset.Options()
    options.hinting = False
    options.layout_features = []
    options.glyph_names = False
    options.notdef_outline = True
    options.recalc_timestamp = False
    options.legacy_cmap = False
    options.drop_tables += ["GDEF", "GPOS", "GSUB", "kern", "FFTM", "gasp", "MATH"]
    font = subset.load_font(path, options)
    keep = subset.Subsetter(options)
    keep.populate(unicodes=wanted_codes())
    keep.subset(font)
    return font


def flatten(font):
    """Every composite glyph becomes plain contours."""
    glyphs = font.getGlyphSet()
    flat = {}
    for name in font.getGlyphOrder():
        if font["glyf"][name].isComposite():
            record = DecomposingRecordingPen(glyphs)
            glyphs[name].draw(record)
            pen = TTGlyphPen(None)
            record.replay(pen)
            flat[name] = pen.glyph()
    for name, glyph in flat.items():
        font["glyf"][name] = glyph
        glyph.recalcBounds(font["glyf"])
        advance, _ = font["hmtx"][name]
        font["hmtx"][name] = (advance, getattr(glyph, "xMin", 0))


def open_zero(font):
    """The dot in the zero of the figures goes: on a copy of a copy it fills and reads as an eight.
    No letter O stands among figures."""
    name = font.getBestCmap()[ord("0")]
    record = DecomposingRecordingPen(font.getGlyphSet())
    font.getGlyphSet()[name].draw(record)
    contours = []
    for operator, points in record.value:
        if operator == "moveTo":
            contours.append([])
        contours[-1].append((operator, points))
    def width(contour):
        xs = [x for _, points in contour for x, _ in points]
        return max(xs) - min(xs)
    pen = TTGlyphPen(None)
    for contour in sorted(contours, key=width)[-2:]:  # the outline and its counter
        for operator, points in contour:
            getattr(pen, operator)(*points)
    font["glyf"][name] = pen.glyph()
    font["glyf"][name].recalcBounds(font["glyf"])


def rename(font, family, postscript):
    names = newTable("name")
    names.names = []
    for number, text in ((0, LICENCE), (1, family), (2, "Regular"), (3, postscript + " 1"),
                         (4, family), (5, "Version 1"), (6, postscript)):
        names.setName(text, number, 3, 1, 0x409)
        names.setName(text, number, 1, 0, 0)
    font["name"] = names


def empty_hinting(font):
    values = newTable("cvt ")
    values.values = array.array("h", [0])
    font["cvt "] = values
    for tag in ("fpgm", "prep"):
        table = newTable(tag)
        table.program = Program()
        table.program.fromBytecode([0x4F] if tag == "fpgm" else [0x21])
        font[tag] = table


def settle(font):
    """Fixed dates, one character map, nothing beyond the tables needed."""
    font["head"].created = font["head"].modified = 0x7C259DC0  # 1 January 1970, from 1904
    font["head"].fontRevision = 1.0
    font["OS/2"].achVendID = "    "
    font["OS/2"].fsType = 0
    font["post"].formatType = 3.0
    font["cmap"].tables = [t for t in font["cmap"].tables
                           if (t.platformID, t.platEncID, t.format) == (3, 1, 4)]
    for tag in list(font.keys()):
        if tag not in TABLES and tag != "GlyphOrder":
            del font[tag]


def make_face(family, postscript, filename):
    font = subset_font(os.path.join(FONTS, filename))
    flatten(font)
    if postscript.endswith("Figures"):
        open_zero(font)
    rename(font, family, postscript)
    settle(font)
    empty_hinting(font)
    font.recalcTimestamp = False
    out = io.BytesIO()
    font.save(out, reorderTables=True)
    return out.getvalue()


def rounded(value, em):
    """Thousandths of the em, half up."""
    return (2000 * value + em) // (2 * em)


def read_back(data):
    """Metrics and advances, from the bytes that are carried."""
    font = TTFont(io.BytesIO(data), lazy=False)
    em = font["head"].unitsPerEm
    best = font.getBestCmap()
    glyf, hmtx = font["glyf"], font["hmtx"]
    # Rounded down: so does the PDF library in the widths by which a viewer sets the text.
    advances = [(code, hmtx[best[code]][0] * 1000 // em) for code in sorted(best)]
    metrics = {
        "x_height": rounded(glyf[best[ord("x")]].yMax, em),
        "digit_height": rounded(min(glyf[best[ord(d)]].yMax for d in "147"), em),
        "descent": rounded(-font["hhea"].descent, em),
    }
    assert [code for code, _ in advances[:95]] == list(range(0x20, 0x7F)), "ASCII comes first"
    assert max(best) < 0x10000, "beyond the basic plane"
    assert not any(glyf[name].isComposite() for name in font.getGlyphOrder()), "composite left"
    return metrics, advances


def emit_rows(out, items, per_row):
    for start in range(0, len(items), per_row):
        out.write("  " + " ".join(items[start:start + per_row]) + "\n")


def emit_face(out, index, data, advances):
    out.write(f"static const unsigned char bytes_{index}[{len(data)}] = {{\n")
    emit_rows(out, [f"{byte}," for byte in data], 24)
    out.write("};\n\n")
    out.write(f"static const FaceGlyph glyphs_{index}[{len(advances)}] = {{\n")
    emit_rows(out, [f"{{0x{code:04X}, {advance}}}," for code, advance in advances], 5)
    out.write("};\n\n")


def main():
    if len(sys.argv) != 2:
        sys.exit("usage: typeface.py OUTDIR")
    out = io.StringIO()
    out.write("/* Made by src/model/typeface.py; do not edit. Changed copies of DejaVu fonts.\n"
              f" * {LICENCE}\n */\n" '#include "model/typeface_data.h"\n\n')
    table = []
    for index, (family, postscript, filename) in enumerate(FACES):
        data = make_face(family, postscript, filename)
        metrics, advances = read_back(data)
        emit_face(out, index, data, advances)
        table.append(
            f'  {{{{"{family}", {metrics["x_height"]}, {metrics["digit_height"]}, '
            f'{metrics["descent"]}, bytes_{index}, sizeof bytes_{index}}},\n'
            f"   glyphs_{index}, {len(advances)}}},\n")
    out.write("const FaceData face_data[FACE_COUNT] = {\n" + "".join(table) + "};\n")
    os.makedirs(sys.argv[1], exist_ok=True)
    target = os.path.join(sys.argv[1], "typeface_data.c")
    with open(target + ".part", "w", encoding="ascii", newline="\n") as file:
        file.write(out.getvalue())
    os.replace(target + ".part", target)


if __name__ == "__main__":
    main()
