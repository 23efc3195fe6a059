"""The tables of keys, as `sheaf language keys` prints them, and a walk over files along them."""

import re
import subprocess

import yaml

ROW = re.compile(r"^\| `(\w+)`(?: \(must be there\))? \| (.*) \| (.*) \|$")
LINK = re.compile(r"\]\(#in-([\w-]+)\)")
KIND = re.compile(r"\[(\w+)\]\(#(\w+)\)")


class Tables:
    """shapes: {"part": {key: what stands there}, "in-joint": {...}}."""

    def __init__(self, sheaf):
        text = subprocess.run([sheaf, "language", "keys"], capture_output=True, check=True,
                              text=True).stdout
        self.shapes, now = {}, None
        for line in text.split("\n"):
            head = re.match(r"^## (.*)$", line) or re.match(r'^<a id="(in-[\w-]+)"></a>$', line)
            if head:
                now = self.shapes.setdefault(head.group(1), {})
            row = ROW.match(line)
            if row and now is not None:
                now[row.group(1)] = row.group(2)
        self.shapes = {name: keys for name, keys in self.shapes.items() if keys}
        self.every = self.shapes.pop("Every entry")

    def stands(self, shape, key):
        return self.shapes[shape].get(key) or ("" if shape.startswith("in-") else
                                               self.every.get(key, ""))


def pairs(node):
    return [(key, value) for key, value in node.value] if isinstance(node, yaml.MappingNode) else []


def items(node):
    if isinstance(node, yaml.SequenceNode):
        return node.value
    return [node]


class Walk:
    """Calls tell(shape, key, what stands there, node) for every scalar behind a key, and
    tell(shape, key, "name", node) for every name in front of lines of names."""

    def __init__(self, tables, tell):
        self.tables, self.tell = tables, tell

    def entry(self, text):
        root = yaml.compose(text, yaml.BaseLoader)
        kind = [value.value for key, value in pairs(root) if key.value == "kind"]
        if kind and kind[0] in self.tables.shapes:
            self.mapping(kind[0], root)

    def mapping(self, shape, node):
        for key, value in pairs(node):
            self.behind(shape, key.value, self.tables.stands(shape, key.value), value)

    def behind(self, shape, key, stands, node):
        inner = LINK.search(stands)
        if stands.startswith(("name: value lines", "name: limit lines")):
            for name, value in pairs(node):
                self.tell(shape, key, "name", name)
                self.choices("in-value" if "value" in stands[:12] else "in-limit", value)
        elif stands.startswith("a formula, a list of choices"):
            self.choices("in-value", node)
        elif "lines" in stands and stands.startswith(("name:", "role:", "step:")):
            for name, value in pairs(node):
                self.tell(shape, key, "name", name)
                if inner:
                    self.mapping("in-" + inner.group(1), value)
                elif stands.startswith("name: [word, word]") and pairs(value):
                    pass
                else:
                    for item in items(value):
                        self.tell(shape, key, stands, item)
        elif inner and not (key == "source" and isinstance(node, yaml.ScalarNode)):
            for item in items(node):
                self.mapping("in-" + inner.group(1), item)
        else:
            for item in items(node):
                if isinstance(item, yaml.ScalarNode):
                    self.tell(shape, key, stands, item)

    def choices(self, shape, node):
        """A value or limit: plain, choices, a mapping of its keys, or by member."""
        for item in items(node):
            plain = "value" if shape == "in-value" else "allowed"
            if isinstance(item, yaml.ScalarNode):
                self.tell(shape, plain, self.tables.stands(shape, plain), item)
            elif any(key.value in self.tables.shapes[shape] for key, value in pairs(item)):
                self.mapping(shape, item)
            else:
                for member, value in pairs(item):
                    self.tell(shape, "by member", "name", member)
                    self.choices(shape, value)
