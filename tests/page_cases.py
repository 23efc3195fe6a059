"""The cases in tests/cases that print a packet, and how each is asked for its pages."""

import glob
import os

TESTS = os.path.dirname(os.path.abspath(__file__))
DROPPED = ("--as", "-o", "--findings", "--paper")  # with the word after each
PAPERS = ("a4", "letter")

# A check makes no sense for a case whose point breaks it: case, how the check begins, why.
NOT_ASKED = (
    ("long_sentence", "8 words in a sentence", "its point is a sentence too long"),
    ("step_split", "10 steps split", "its point is a step longer than a page"),
    ("one_bad_of_two", "", "two builds in one call have no one listing"),
)
# What stands on one sheet only: the check, and the sheet's title without which it is not asked.
ON_SHEETS = (
    ("1 scale bar", "Job sheet"),
    ("28 ", "Job sheet"),
    ("32 ", "Job sheet"),
    ("9 steps with a box", "Bench sheets"),
)
# A box filled from the readings has its figure in it, and wants neither mark nor another try.
WITH_READINGS = (
    "15 boxes with a figure",
    "15 boxes of gauges that read decimals",
    "16 rows with limits, with room for another try",
)


def words_of(case, name):
    path = os.path.join(case, name)
    if not os.path.exists(path):
        return []
    with open(path, encoding="utf-8") as file:
        return [word for word in file.read().split("\n") if word]


def command_of(case):
    """Words after the program's name, for the folder of the case; None where nothing is printed."""
    given = words_of(case, "command") or ["packet", "build.yaml"]
    if given[0] != "packet":
        return None
    own = ["--library", "library"] if os.path.isdir(os.path.join(case, "library")) else []
    given += own + ["--library", "../../library"] + words_of(case, "args")
    words, skip = [], False
    for word in given:
        if not skip and word not in DROPPED:
            words.append(word.replace("{case}", "."))
        skip = not skip and word in DROPPED
    return words


def printing_cases():
    """Name, folder, command and paper."""
    for case in sorted(glob.glob(os.path.join(TESTS, "cases", "*"))):
        command = command_of(case)
        if command and os.path.exists(os.path.join(case, "packet.txt")):
            for paper in PAPERS:
                if (os.path.basename(case), "") not in [entry[:2] for entry in NOT_ASKED]:
                    yield os.path.basename(case), case, command, paper


def is_asked(case, what, words, titles):
    """Of a check of that case's packet, asked for with these words; titles of its sheets."""
    if any(case == name and what.startswith(begins) for name, begins, _ in NOT_ASKED):
        return False
    if "--readings" in words and what.startswith(WITH_READINGS):
        return False
    return all(title in titles for begins, title in ON_SHEETS if what.startswith(begins))


def prints_both_sides(folder, words):
    """Said to the program, or by a packet of the case's own library."""
    own = os.path.join(folder, "library", "templates", "packets", "*.yaml")
    return "--duplex" in words or any(
        "sides: both" in words_of("", path) for path in glob.glob(own))
