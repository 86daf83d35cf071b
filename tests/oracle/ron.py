"""Scene files as Python values: enough of RON for what `sixhold sheet` writes.

A named tuple or struct becomes a `Named`; other tuples and lists become lists, maps and unnamed structs dicts, numbers
exact fractions.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from fractions import Fraction

TOKEN = re.compile(r'\s*(?:("(?:[^"\\]|\\.)*")|(-?\d+(?:\.\d+)?(?:[eE][-+]?\d+)?)|(\w+)|([()\[\]{}:,]))')


@dataclass
class Named:
    name: str
    fields: dict = field(default_factory=dict)


def read(text: str):
    tokens = [found.group().strip() for found in TOKEN.finditer(text)]
    value, end = parse(tokens, 0)
    assert end == len(tokens), tokens[end:]
    return value


def parse(tokens: list[str], at: int):
    token = tokens[at]
    if token[0] == '"':
        return token[1:-1].replace('\\"', '"').replace("\\\\", "\\"), at + 1
    if token in ("(", "[", "{"):
        return group(tokens, at)
    if token[0].isdigit() or token[0] == "-":
        return Fraction(token), at + 1
    if at + 1 < len(tokens) and tokens[at + 1] == "(":
        fields, end = group(tokens, at + 1)
        return Named(token, fields if isinstance(fields, dict) else {}), end
    return {"true": True, "false": False}.get(token, token), at + 1


def group(tokens: list[str], at: int):
    """What is between brackets: a dict where its entries have keys, else a list."""
    keyed, listed = {}, []
    at += 1
    while tokens[at] not in (")", "]", "}"):
        entry, at = parse(tokens, at)
        if tokens[at] == ":":
            keyed[entry], at = parse(tokens, at + 1)
        else:
            listed.append(entry)
        at += tokens[at] == ","
    return (keyed or listed), at + 1
