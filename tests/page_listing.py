"""Pages as `sheaf packet --as pages` lists them, for the checks of what stands on paper."""

import re

POINT = 25.4 / 72
FACES = ["text", "bold", "figures"]


class Face:
    def __init__(self, info, glyphs):
        self.x_height, self.digits, self.descent = [int(n) / 1000 for n in info]
        self.advance = {int(code, 16): int(wide) / 1000 for code, wide in glyphs}

    def width(self, size, text):
        return sum(self.advance.get(ord(c), 0) for c in text) * size


def read_faces():
    with open("out/gen/typeface_data.c", encoding="utf-8") as file:
        data = file.read()
    faces = {}
    for number, name in enumerate(FACES):
        table = re.search(r"glyphs_%d\[.*?\] = \{(.*?)\};" % number, data, re.S).group(1)
        info = re.search(r'\{\{"[^"]+", (\d+), (\d+), (\d+), bytes_%d' % number, data)
        faces[name] = Face(info.groups(), re.findall(r"\{(0x[0-9A-F]+), (\d+)\}", table))
    return faces


class Mark:
    """One line of a listing; left, top, right, bottom hold all its ink."""

    def __init__(self, line, faces):
        self.kind = line.split()[0]
        group = re.search(r" group (\d+)$", line)
        self.group = int(group.group(1)) if group else -1
        wide = re.search(r" width ([\d.]+)", line)
        self.line = float(wide.group(1)) if wide else 0.0
        self.filled = " filled" in line
        self.text = ""
        getattr(self, "read_" + self.kind)(line, faces)
        if self.kind != "text":
            half = self.line / 2
            self.left, self.top = self.left - half, self.top - half
            self.right, self.bottom = self.right + half, self.bottom + half

    def read_line(self, line, faces):
        x, y, x2, y2 = [float(n) for n in re.findall(r"-?\d+\.\d+", line)[:4]]
        self.left, self.right = sorted([x, x2])
        self.top, self.bottom = sorted([y, y2])

    read_rectangle = read_link = read_line

    def read_polygon(self, line, faces):
        pairs = re.findall(r"(-?\d+\.\d+),(-?\d+\.\d+)", line)
        xs, ys = [float(x) for x, _ in pairs], [float(y) for _, y in pairs]
        self.left, self.right, self.top, self.bottom = min(xs), max(xs), min(ys), max(ys)
        self.corners = len(pairs)

    def read_circle(self, line, faces):
        x, y, r = [float(n) for n in re.findall(r"-?\d+\.\d+", line)[:3]]
        self.left, self.right, self.top, self.bottom = x - r, x + r, y - r, y + r

    read_arc = read_circle

    def read_text(self, line, faces):
        match = re.match(r'text (\S+) (\S+) (\w+) (\S+) "(.*)"(?: white)?(?: group \d+)?$', line)
        self.x, self.y, self.size = float(match[1]), float(match[2]), float(match[4])
        self.face, self.text = match[3], re.sub(r"\\(.)", r"\1", match[5])
        face = faces[self.face]
        self.left, self.right = self.x, self.x + face.width(self.size, self.text)
        self.top, self.bottom = self.y - self.size * face.digits, self.y + self.size * face.descent
        self.digits, self.x_height = self.size * face.digits, self.size * face.x_height

    @property
    def width(self):
        return self.right - self.left

    @property
    def height(self):
        return self.bottom - self.top

    def is_box(self):
        return self.kind == "rectangle" and not self.filled

    def is_signature(self):
        """The line that signs for a part of a block."""
        return self.kind == "text" and re.match(r"Steps? \d+.* done: ", self.text) is not None

    def is_tick(self):
        return self.is_box() and abs(self.width - self.height) < 0.01 and self.height < 9


class Listing:
    def __init__(self, text, faces):
        self.pages, self.bookmarks = [], []
        for line in text.splitlines():
            if line.startswith("paper "):
                self.width, self.height = [float(n) for n in line.split()[1:3]]
            elif line.startswith("page "):
                if not self.pages:
                    self.first, self.total = [int(n) for n in re.findall(r"\d+", line)[1:3]]
                self.pages.append([])
            elif line.startswith("bookmark "):
                self.bookmarks.append((int(line.split()[1]), int(line.split()[3])))
            elif line.startswith("  "):
                self.pages[-1].append(Mark(line.strip(), faces))
        self.marks = [mark for page in self.pages for mark in page]
        self.texts = [mark for mark in self.marks if mark.kind == "text"]


def lines_of(page):
    """Marks that stand on one line of text, each line's marks from the left, gaps at most a space."""
    rows = {}
    for mark in page:
        if mark.kind == "text":
            rows.setdefault((mark.group, mark.y), []).append(mark)
    for row in rows.values():
        run = []
        for mark in sorted(row, key=lambda m: m.x):
            if run and mark.x - run[-1].right > 0.5 * mark.size:
                yield run
                run = []
            run.append(mark)
        yield run


def labelled_boxes(page, begins):
    """Boxes right under a label that begins so."""
    for label in page:
        if label.kind != "text" or not label.text.startswith(begins):
            continue
        for box in page:
            if box.is_box() and abs(box.left - label.x) < 0.3 and 0 <= box.top - label.y < 2.5:
                yield box


def step_marks(listing):
    """Page, tick box and text of each step: a tick box at the left edge, a number and text beside it."""
    edges = [min((mark.left for page in listing.pages[side::2] for mark in page if mark.is_tick()),
                 default=0) for side in (0, 1)]  # the margins of fronts and backs may differ
    for number, page in enumerate(listing.pages):
        edge = edges[number % 2]
        for tick in page:
            if not tick.is_tick() or tick.left - edge > 0.5:
                continue
            beside = [m for m in page if m.kind == "text" and m.group == tick.group
                      and tick.top - 1 < m.y - m.digits / 2 < tick.bottom + 1]
            numbers = [m for m in beside if m.face == "bold" and m.text.isdigit()
                       and tick.right < m.x < tick.right + 15]
            if numbers:
                yield number, tick, [m for m in beside if m.x > numbers[0].right]
