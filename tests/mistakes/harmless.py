"""What changes nothing that matters: none of these may be refused."""

from edit import build, gauge, joint, part, step, sub, value

WHOLE, TOP, SINGLE, FORK = "twin_870_whole", "twin_870", "single_shims", "fork_41"


def moved_up(path, pattern):
    """The line put first in its file."""
    import re

    def edit(files):
        line = re.search(pattern, files[path], re.M).group(0)
        files[path] = line + files[path].replace(line, "", 1)
    return edit


def for_all(name, change):
    return [(name + ", " + build_name, build_name, change)
            for build_name in (WHOLE, TOP, SINGLE, FORK)]


HARMLESS = (
    for_all("another job number", build(r"^job: .*", "job: AB-2041.7"))
    + for_all("another date", build(r"^date: .*", "date: 2026-12-01"))
    + for_all("another copy", build(r"^copy: .*", 'copy: "2"'))
    + for_all("a comment", build(r"^kind: build", "# written on a Monday\nkind: build   # all of it"))
    + for_all("keys in another order", moved_up("build", r"^work: .*\n"))
    + for_all("Windows line ends", sub("build", r"\n", "\r\n", 0))
    + for_all("a blank line at the end", build(r"\Z", "\n\n"))
    + for_all("a customer with an accent", build(r"^customer: .*", "customer: {name: Zoë Ångström, contact: see job card}"))
    + [
        ("a note more", TOP, build(r"^notes:\n", "notes:\n  - The owner comes on Friday.\n")),
        ("name in quotes", TOP, build(r"^name: (.*)", r'name: "\1"')),
        ("parts in braces", FORK, build(r"^parts: \{(spring: \w+), (.*)\}", r"parts:\n  \1\n  \2")),
        ("bore in cm", TOP, value("orrest_barrel_870", "bore", "8.3400 +-0.0005 cm")),
        ("bore as a band", TOP, value("orrest_barrel_870", "bore", "83.395 to 83.405 mm")),
        ("bore with two tolerances", TOP, value("orrest_barrel_870", "bore", "83.395 +0.010/-0 mm")),
        ("chamber in mL", TOP, part("tamber_head_870", r"50\.6 \+-0\.4 cm3", "50.6 +-0.4 mL")),
        ("chamber in mm3", TOP, part("tamber_head_870", r"50\.6 \+-0\.4 cm3", "50600 +-400 mm3")),
        ("gasket in um", TOP, part("head_gasket_060", r"0\.60 \+-0\.03 mm", "600 +-30 um")),
        ("torque without its second unit", TOP, joint("tamber_head_870", "head_nuts", "torque", "46 N.m")),
        ("torque in lbf.ft, the same", TOP, joint("tamber_head_870", "head_nuts", "torque", "33.9 lbf.ft")),
        ("torque in lbf.in, the same", WHOLE, joint("t764_cam_plate", "cam_plate", "torque", "75 lbf.in")),
        ("torque with a zero more", TOP, joint("tamber_head_870", "head_nuts", "torque", "46.0 N.m")),
        ("thread with its pitch said", WHOLE, joint("t764_cam_plate", "cam_plate", "thread", "M6x1.0")),
        ("thread with a multiplication sign", TOP, joint("tamber_head_870", "head_nuts", "thread", "M10×1.25")),
        ("another order that is whole", TOP, joint("tamber_head_870", "head_nuts", "order", "[7, 2, 6, 3, 8, 1, 5, 4]")),
        ("no order for one nut", WHOLE, joint("t764_rod", "rod_bolts", "order", None)),
        ("a narrower limit of the build", TOP, build(r"^choices:", "limits: {compression_ratio: {min: 9.10, max: 9.68, why: the owner's fuel}}\nchoices:")),
        ("a narrower tolerance", TOP, part("orrest_barrel_870", r"127\.20 \+-0\.03", "127.20 +-0.02")),
        ("a lower rev limit", TOP, build(r"6800 rpm", "6500 rpm")),
        ("a better gauge", TOP, gauge("depth_gauge", "uncertainty", "0.005 mm")),
        ("a later calibration", TOP, gauge("micrometer", "due", "2028-01-01")),
        ("a wrench more", TOP, sub("specs/shop/quarrel_lane.yaml", r"^wrenches:\n", "wrenches:\n  w9: {label: Spare torque wrench, id: W9, range: 2 to 20 N.m, length: 200 mm, due: 2027-09-01}\n")),
        ("a text that says it otherwise", TOP, step("top_end", "look_bores", r"check: .*", "check: Shine a lamp into each bore. It must be empty.")),
        ("events in another notation", TOP, part("wexcombe_cam_24", r"31 deg BTDC", "31.0 deg BTDC")),
        ("a formula in another order", TOP, sub("specs/relations/stack_up.yaml", r"= deck_least \+ gasket_thickness", "= gasket_thickness + deck_least")),
        ("a formula with brackets", TOP, sub("specs/relations/stack_up.yaml", r"= deck_least \+ gasket_thickness", "= (deck_least) + (gasket_thickness)")),
    ]
)
