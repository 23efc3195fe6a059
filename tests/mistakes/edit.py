"""Edits of builds and specs by their outline, so that they stand when the texts around change."""

import re


class CannotPlant(Exception):
    pass


def sub(path, pattern, new, count=1):
    """The first match in the file replaced; "build" is the build itself."""
    def edit(files):
        text, n = re.subn(pattern, new, files[path], count=count, flags=re.M)
        if n == 0:
            raise CannotPlant("%s has no %s" % (path, pattern))
        if text == files[path]:
            raise CannotPlant("%s: nothing changed by %s" % (path, pattern))
        files[path] = text
    return edit


def _span(text, start, inner):
    """A block that begins with a line like start and goes on with lines like inner."""
    begin = re.search(start, text, re.M)
    if not begin:
        raise CannotPlant("nothing like %s" % start)
    end = begin.end()
    for line in re.finditer(r"[^\n]*\n?", text[end:]):
        if not line.group(0) or not re.match(inner, line.group(0)):
            break
        end += len(line.group(0))
    return begin.start(), end


def within(path, start, inner, pattern, new):
    def edit(files):
        text = files[path]
        a, b = _span(text, start, inner)
        piece, n = re.subn(pattern, new, text[a:b], count=1, flags=re.M)
        if n == 0:
            raise CannotPlant("%s: no %s in %s" % (path, pattern, start))
        files[path] = text[:a] + piece + text[b:]
    return edit


def joint(part, name, key, new):
    """A key of a joint of a part; new None: the key is gone."""
    line = "" if new is None else "    %s: %s\n" % (key, new.replace("\\", "\\\\"))
    return within("specs/parts/%s.yaml" % part, r"^  %s:\n" % name, r"    ",
                  r"^    %s: .*\n" % key, line)


def value(part, key, new):
    """A value, limit or mate of a part that stands on a line of its own."""
    return sub("specs/parts/%s.yaml" % part, r"^(  %s: ).*$" % key,
               lambda m: m.group(1) + new)


def part(name, pattern, new):
    return sub("specs/parts/%s.yaml" % name, pattern, new)


def gauge(name, key, new):
    return sub("specs/shop/quarrel_lane.yaml", r"^(  %s: .*\b%s: )[^,}]*" % (name, key),
               lambda m: m.group(1) + new)


STEP = r"      - id: %s\n"
INNER = r"        "


def _step(text, name):
    return _span(text, "^" + STEP % name, INNER)


def procedure(name):
    return "templates/procedures/%s.yaml" % name


def step_gone(module, name):
    def edit(files):
        text = files[procedure(module)]
        a, b = _step(text, name)
        files[procedure(module)] = text[:a] + text[b:]
    return edit


def step_behind(module, name, other, to=None):
    """The step put behind another one, maybe of another module."""
    def edit(files):
        text = files[procedure(module)]
        a, b = _step(text, name)
        piece = text[a:b]
        files[procedure(module)] = text[:a] + text[b:]
        text = files[procedure(to or module)]
        _, end = _step(text, other)
        files[procedure(to or module)] = text[:end] + piece + text[end:]
    return edit


def step_twice(module, name):
    def edit(files):
        text = files[procedure(module)]
        a, b = _step(text, name)
        again = text[a:b].replace("id: " + name, "id: %s_again" % name, 1)
        files[procedure(module)] = text[:b] + again + text[b:]
    return edit


def step(module, name, pattern, new):
    return within(procedure(module), "^" + STEP % name, INNER, pattern, new)


def build(pattern, new):
    return sub("build", pattern, new)
