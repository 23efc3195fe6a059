"""What is worked by: sentences, acts, measured rows, messages, first sheet, figures."""

import re

from page_listing import POINT, labelled_boxes

ACTS = ("Check", "Verify", "Record", "Decide", "Wait")
BORDERS = {"DANGER": 4.5, "WARNING": 3.0, "CAUTION": 1.5, "NOTICE": 0.5}  # points
SIGNS = {"DANGER": True, "WARNING": True, "CAUTION": True, "NOTICE": False}
NUMBER = r"[-\u2212+]?\d+(?:\.\d+)?"


def joined(texts):
    return " ".join(m.text for m in sorted(texts, key=lambda m: (round(m.y, 1), m.x)))


def step_texts(listing, steps):
    """Of each step: its page, and its words as they run on over lines."""
    for number, tick, beside in steps:
        if not beside:
            yield number, tick, ""
            continue
        size, x, y = 12 * POINT, min(m.x for m in beside), min(m.y for m in beside)
        words, page = [], listing.pages[number]
        while True:
            line = [m for m in page if m.kind == "text" and m.group == tick.group
                    and abs(m.y - y) < 0.05 and abs(m.size - size) < 0.01 and m.x >= x - 0.01]
            if not line or (words and min(m.x for m in line) > x + 0.05):
                break
            words += line
            y += 15.6 * POINT
        yield number, tick, joined(words)


def check_sentences(report, listing, steps):
    texts = [text for _, _, text in step_texts(listing, steps)]
    counts = []
    for text in texts:
        for sentence in re.split(r"(?<=[.?!])\s+(?=[A-Z])", text):
            counts.append(len([w for w in sentence.split() if re.search(r"\w", w)]))
    if not report.name.startswith("odd_part_name"):  # a name of 120 characters, told by a concern
        report.most("8 words in a sentence of a step", counts, 20, "words")
    empty = sum(not text or not text[0].isupper() for text in texts)
    report.tell("8 steps that do not begin with a word", empty, "none of %d" % len(texts), not empty)


def check_acts(report, listing, steps):
    """A record fills a box, and no other act but a decision does."""
    where = {}
    for number, page in enumerate(listing.pages):
        for mark in page:
            if mark.kind == "text" and mark.group >= 0 and re.match(r"Box \d+$", mark.text):
                where.setdefault(mark.group, 0)
                where[mark.group] += 1
    counts, bare, other = {}, 0, 0
    for _, tick, text in step_texts(listing, steps):
        act = next((a for a in ACTS if re.match(a + r"\b", text)), "Do")
        counts[act] = counts.get(act, 0) + 1
        lines = [m for page in listing.pages for m in page if m.group == tick.group]
        filled = where.get(tick.group, 0) or any(m.text == "=" for m in lines) or \
            any(m.text.startswith("row found") for m in lines) or \
            any(m.kind == "text" and m.text == "initials" for m in lines)
        bare += act == "Record" and not filled
        other += act in ("Check", "Verify") and bool(where.get(tick.group, 0))
    report.tell("12 acts told apart", ", ".join("%s %d" % pair for pair in sorted(counts.items())),
                "each by its word", True)
    report.tell("12 records without a box", bare, "none", not bare)
    report.tell("12 looks with a box to fill", other, "none", not other)
    holds = [m for m in listing.texts if re.match(r"HOLD \d+$", m.text)]
    signed = sum(sum(1 for m in listing.texts if m.group == hold.group
                     and ("initials" in m.text)) >= 2 for hold in holds)
    report.tell("13 holds with two initials", "%d of %d" % (signed, len(holds)), "all",
                signed == len(holds))


class Row:
    """A measured row: all marks of its page between its number and what comes below it."""

    def __init__(self, number, page, end_y, left, right):
        self.marks = [m for m in page if m.group == number.group and m.left >= left - 0.3
                      and m.left < right and number.top - 1.5 <= m.top < end_y]
        self.texts = [m for m in self.marks if m.kind == "text"]
        self.number = int(re.sub(r"\D", "", number.text))
        self.said = " ".join(m.text for m in sorted(self.texts, key=lambda m: (m.y, m.x)))
        self.readings = [b for b in labelled_boxes(self.marks, "reading")]
        self.again = [b for b in labelled_boxes(self.marks, "again")]

    def goes_on(self, before):
        """Of a grid: labels stand above the boxes of its first row, and what holds for all."""
        self.readings = [b for b in self.marks if b.is_box() and any(
            abs(b.left - r.left) < 0.3 and abs(b.width - r.width) < 0.3 for r in before.readings)]
        signed = [m for m in before.texts if m.text == "initials"
                  and any(b.is_box() and abs(b.left - m.x) < 0.3 for b in self.marks)]
        self.texts, self.said = self.texts + signed, self.said + " " + before.said

    def limit(self, label):
        for m in self.texts:
            if m.text != label:
                continue
            below = [n.text for n in self.texts if n.face == "figures" and abs(n.x - m.x) < 0.3
                     and n.y > m.y]
            return below[0].replace("\u2212", "-") if below else None
        return None


def rows_of(page):
    numbers = [m for m in page if m.kind == "text" and m.face == "bold"
               and re.match(r"Box \d+$", m.text)]
    ends = [m.top for m in page if m.is_tick() and m.left < min(n.x for n in numbers) + 1] \
        if numbers else []
    ends += [m.y - 6 for m in page if m.is_signature()]
    ends += [m.top - 3 for m in page if m.kind == "text" and m.text == "="]
    before = None
    for number in sorted(numbers, key=lambda n: (n.y, n.x)):
        beside = [n for n in numbers if abs(n.y - number.y) < 0.1 and n.x > number.x]
        below = [n.top - 1 for n in numbers if n.y > number.y + 1]
        below += [end for end in ends if end > number.top]
        row = Row(number, page, min(below, default=1e9), number.x,
                  min((n.x - 1 for n in beside), default=1e9))
        if before and not row.readings:
            row.goes_on(before)
        before = row
        yield row


def has_mark(box, marks):
    return any(m.kind == "circle" and m.filled and box.left < m.left and m.right < box.right
               and box.top < m.top and m.bottom <= box.bottom for m in marks)


def check_rows(report, listing):
    rows = [row for page in listing.pages for row in rows_of(page)]
    boxes = [(row, box) for row in rows for box in row.readings + row.again]
    typed = sum(any(m.face == "figures" and box.left < m.x < box.right and box.top < m.y < box.bottom
                    for m in row.texts) for row, box in boxes)
    places = [(row, box) for row, box in boxes if re.search(r"reads \d+\.\d", row.said)]
    marked = sum(has_mark(box, row.marks) for row, box in places)
    units = sum(any(m.text.strip() and 0 < m.x - max(b.right for b in row.readings) < 80
                    for m in row.texts if m.face == "text") for row in rows if row.readings)
    bare = [m.text for m in listing.texts if re.search(r"(?<![\d.\w])\.\d", m.text)]
    report.tell("15 boxes with a figure printed in them", typed, "none of %d" % len(boxes), not typed)
    report.tell("15 boxes of gauges that read decimals, with the mark", marked,
                "all %d" % len(places), marked == len(places))
    report.tell("15 rows with the unit beside the boxes", units, "all %d" % len(rows),
                units == len(rows))
    report.tell("15 numbers without a leading zero", len(bare), "none", not bare)
    judged = [row for row in rows if row.limit("min") or row.limit("max")]
    plain = [row for row in rows if row not in judged]
    said = sum(bool(re.search(r"(Record only|Judged by|Feeds)", row.said)) for row in plain)
    report.tell("16 rows without limits that say what they are", said, "all %d" % len(plain),
                said == len(plain))
    for what, good in (("gauge", lambda r: "reads" in r.said or "gauge" in r.said.lower()
                        or re.search(r"\b[A-Z]+\d+\b", r.said)),
                       ("box for the reading", lambda r: r.readings),
                       ("initials", lambda r: any(m.text == "initials" for m in r.texts))):
        count = sum(bool(good(row)) for row in rows)
        report.tell("16 rows with " + what, count, "all %d" % len(rows), count == len(rows))
    count = sum({"in", "out"} <= {m.text for m in row.texts} for row in judged)
    report.tell("16 rows with limits, with in and out", count, "all %d" % len(judged),
                count == len(judged))
    count = sum(len(row.again) >= len(row.readings) for row in judged)
    report.tell("16 rows with limits, with room for another try", count, "all %d" % len(judged),
                count == len(judged))
    texts = " ".join(m.text for m in listing.texts)
    worked = {int(number) for numbers in re.findall(r"in box(?:es)? ([\d, ]+)\.", texts)
              for number in re.findall(r"\d+", numbers)}
    check_gauges(report, [row for row in judged if row.number not in worked])


def check_gauges(report, judged):
    """Against the band on the row itself; what is worked out on paper is judged by more."""
    shares, coarse = [], 0
    for row in judged:
        low, high = row.limit("min"), row.limit("max")
        reads = re.search(r"reads (%s) (\S+)" % NUMBER, row.said)
        if not reads or not low or not high or not re.fullmatch(NUMBER, low) \
                or not re.fullmatch(NUMBER, high):
            continue
        share = float(reads.group(1)) / (float(high) - float(low))
        shares.append(share)
        coarse += share > 0.1 + 1e-6 and len(row.readings) < 3
    report.most("17 resolution of a gauge in its band", shares, 0.2, "of the band")
    report.tell("17 gauges over a tenth without three readings", coarse, "none", not coarse)


def check_borders(report, listing):
    found, signs = {}, {}
    for page in listing.pages:
        for word in page:
            if word.kind != "text" or word.group < 0 or word.text not in BORDERS \
                    or word.size < 15 * POINT:
                continue
            around = [m for m in page if m.is_box() and m.width > 150 and m.group == word.group
                      and m.top < word.y < m.bottom]
            if not around:
                continue
            box = min(around, key=lambda m: m.height)
            found.setdefault(word.text, set()).add(round(box.line / POINT, 2))
            triangle = any(m.kind == "polygon" and m.corners == 3 and not m.filled and m.height > 7
                           and box.top < m.top and m.bottom < box.bottom for m in page)
            dark = any(m.kind == "rectangle" and m.filled and m.width > 150 and m.top < word.y
                       < m.bottom for m in page)
            signs.setdefault(word.text, set()).add((triangle, dark))
    for word, points in BORDERS.items():
        widths = sorted(found.get(word, []))
        good = all(abs(w - points) < 0.06 for w in widths)
        good = good and signs.get(word, set()) <= {(SIGNS[word], word == "DANGER")}
        report.tell("27 border of " + word, ", ".join("%.2f pt" % w for w in widths) or "none there",
                    "%.1f pt, %s" % (points, "triangle" if SIGNS[word] else "no triangle"), good)


def check_first_sheet(report, listing):
    first = joined(m for m in listing.pages[0] if m.kind == "text")
    for what, pattern in (("28 the maker's information and the law come first",
                           r"service information or local law differs.*follow them"),
                          ("28 work for people with a licence or training", r"licence or training"),
                          ("32 how an entry is corrected", r"draw one line through it.*initials and "
                           r"the date")):
        said = re.search(pattern, first) is not None
        report.tell(what, "said on page 1" if said else "not said", "on page 1", said)


def check_figures(report, listing):
    captions = {int(n) for m in listing.texts for n in re.findall(r"^Figure (\d+)\.$", m.text)}
    named = [int(n) for m in listing.texts for n in re.findall(r"\bfigure (\d+)\b", m.text)]
    report.tell("figures called by number", len(named), "all %d in the packet" % len(captions),
                set(named) <= captions)
    loose = [m.text for m in listing.texts if re.search(r"\b(in|with) the figure\b|\{figure", m.text)]
    report.tell("figures called without a number", len(loose), "none", not loose)


def check_packing(report, listing):
    fills, orphans = [], 0
    top, room = (listing.height - 255) / 2 + 14.5, 255 - 14.5 - 7
    for page in listing.pages:
        own = [m for m in page if m.group >= 0 and m.kind != "link"]
        fills.append((max((m.bottom for m in own), default=top) - top) / room)
        last = max(own, key=lambda m: m.bottom, default=None)
        orphans += last is not None and last.kind == "text" and last.face == "bold" \
            and last.size > 13.5 * POINT and not last.text.startswith("HOLD")
    report.tell("mean fill of %d pages" % len(fills), "%.2f" % (sum(fills) / len(fills)),
                "as it comes", True)
    report.tell("headings at the foot of a page", orphans, "none", not orphans)


def check(report, listing, steps):
    check_sentences(report, listing, steps)
    check_acts(report, listing, steps)
    check_rows(report, listing)
    check_borders(report, listing)
    check_first_sheet(report, listing)
    check_figures(report, listing)
    check_packing(report, listing)
