"""Random scenes, and the reactions of their supports from the tables in scenes/README.md alone.

A scene is kept as exact fractions, and written as decimals that are those fractions. Coordinates are small whole
numbers, halves and now and then a decimal with three digits: special arrangements come by themselves, and often.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, field
from fractions import Fraction

Vector = tuple[Fraction, Fraction, Fraction]

SPATIAL = [
    "BallJoint", "Hinge", "SlidingHinge", "JournalBearing", "ThrustBearing", "SquareJournal",
    "SmoothPin", "Slider", "UniversalJoint", "RailWheel", "Fixed", "Roller", "SmoothContact",
    "RoughContact", "Link", "Cable",
]
PLANAR = ["Pin", "Rocker", "Slot", "Collar", "Fixed", "Roller", "SmoothContact", "RoughContact", "Link", "Cable"]
# Few unknowns more often than many, so that every count from 0 to 12 comes up.
LIGHT_SPATIAL = ["Roller", "SmoothContact", "Link", "Cable", "RailWheel", "BallJoint"]
LIGHT_PLANAR = ["Roller", "Rocker", "Slot", "Link", "Cable"]


@dataclass
class Support:
    kind: str
    name: str
    at: Vector
    along: Vector = (Fraction(0),) * 3
    other: Vector = (Fraction(0),) * 3
    couples: bool = True
    stiffness: int | None = None


@dataclass
class Load:
    kind: str
    at: Vector
    amount: Vector


@dataclass
class Scene:
    name: str
    planar: bool
    centre: Vector
    size: Vector
    supports: list[Support]
    loads: list[Load]
    mass: Fraction | None = None
    notes: list[str] = field(default_factory=list)

    def text(self) -> str:
        """The scene as a file."""
        space = "planar" if self.planar else "spatial"
        parts = [f"    {self._support(support)}," for support in self.supports]
        loads = [f"    {self._load(load)}," for load in self.loads]
        if self.mass is not None:
            loads.append(f"    Weight(mass: {decimal(self.mass)}),")
        size = ", ".join(decimal(x) for x in self.size)
        return "\n".join(
            ["(", "  format: 1,", f"  space: {space},", "  elastic: true,",
             f"  body: [Block(centre: {self._vector(self.centre)}, size: ({size}))],",
             "  supports: [", *parts, "  ],", "  loads: [", *loads, "  ],", ")", ""]
        )

    def _vector(self, vector: Vector) -> str:
        return "(" + ", ".join(decimal(x) for x in vector[: 2 if self.planar else 3]) + ")"

    def _support(self, s: Support) -> str:
        own = {
            "Link": f", ground: {self._vector(s.other)}",
            "Cable": f", ground: {self._vector(s.other)}",
            "RailWheel": f", rail: {self._vector(s.along)}, normal: {self._vector(s.other)}",
            "Slot": f", along: {self._vector(s.along)}",
            "Collar": f", rod: {self._vector(s.along)}",
            "UniversalJoint": f", axis: {self._vector(s.along)}",
            "BallJoint": "", "Fixed": "", "Pin": "",
        }.get(s.kind)
        if own is None and s.kind in ("Roller", "Rocker", "SmoothContact", "RoughContact"):
            own = f", normal: {self._vector(s.along)}"
        if own is None:
            word = "rod" if s.kind == "Slider" else "axis"
            own = f", {word}: {self._vector(s.along)}, couples: {str(s.couples).lower()}"
        if s.stiffness is not None:
            own += f", stiffness: {s.stiffness}"
        return f'{s.kind}(name: "{s.name}", at: {self._vector(s.at)}{own})'

    def _load(self, load: Load) -> str:
        if load.kind == "Couple":
            moment = decimal(load.amount[2]) if self.planar else self._vector(load.amount)
            return f"Couple(moment: {moment})"
        return f"Force(at: {self._vector(load.at)}, force: {self._vector(load.amount)})"


def decimal(x: Fraction) -> str:
    """The fraction as a decimal, exactly; only fractions that have one occur."""
    for digits in range(13):
        scaled = x * 10**digits
        if scaled.denominator == 1:
            sign, number = ("-" if scaled < 0 else ""), str(abs(scaled.numerator)).rjust(digits + 1, "0")
            return sign + (number if digits == 0 else f"{number[:-digits]}.{number[-digits:]}")
    raise ValueError(f"{x} has no short decimal")


def cross(a: Vector, b: Vector) -> Vector:
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def dot(a: Vector, b: Vector) -> Fraction:
    return sum((x * y for x, y in zip(a, b)), Fraction(0))


def minus(a: Vector, b: Vector) -> Vector:
    return tuple(x - y for x, y in zip(a, b))


UNITS: list[Vector] = [tuple(Fraction(int(i == j)) for j in range(3)) for i in range(3)]


def across(axis: Vector) -> list[Vector]:
    """Two directions that span the plane across an axis."""
    spanning = [cross(axis, unit) for unit in UNITS]
    first = next(v for v in spanning if any(v))
    return [first, cross(axis, first)]


def reactions(scene: Scene, s: Support) -> list[tuple[str, Vector, Vector, str]]:
    """(force or couple, direction of any length, point, sense) of each reaction: the tables of the reference."""
    if scene.planar:
        plane, spin = UNITS[:2], UNITS[2]
        normal = (-s.along[1], s.along[0], Fraction(0))
        force = {
            "Pin": plane, "Fixed": plane, "RoughContact": plane,
            "Slot": [normal], "Collar": [normal],
        }.get(s.kind)
        couple = [spin] if s.kind in ("Fixed", "Collar") else []
    else:
        hinged = s.kind in ("Hinge", "ThrustBearing", "SmoothPin")
        sliding = s.kind in ("SlidingHinge", "JournalBearing", "Slider", "SquareJournal")
        if hinged or s.kind in ("BallJoint", "UniversalJoint", "Fixed", "RoughContact"):
            force = UNITS
        elif sliding:
            force = across(s.along)
        elif s.kind == "RailWheel":
            upright = minus(scale(s.other, dot(s.along, s.along)), scale(s.along, dot(s.along, s.other)))
            force = [upright, cross(s.along, s.other)]
        else:
            force = None
        couple = []
        if s.kind == "Fixed":
            couple = UNITS
        elif s.kind == "UniversalJoint" or (s.kind == "SquareJournal" and not s.couples):
            couple = [s.along]
        elif s.kind == "SquareJournal":
            couple = [*across(s.along), s.along]
        elif (hinged or sliding) and s.couples:
            couple = across(s.along)
    if force is None:
        force = [minus(s.other, s.at) if s.kind in ("Link", "Cable") else s.along]
    listed = [("force", direction, s.at, "both") for direction in force]
    if s.kind in ("Roller", "Rocker", "SmoothContact"):
        listed = [("force", s.along, s.at, "push")]
    elif s.kind == "RoughContact":
        sides = [(-s.along[1], s.along[0], Fraction(0))] if scene.planar else across(s.along)
        listed = [("force", s.along, s.at, "push"), *(("force", side, s.at, "both") for side in sides)]
    elif s.kind == "Cable":
        listed = [(*listed[0][:3], "pull")]
    return listed + [("couple", direction, s.at, "both") for direction in couple]


def scale(v: Vector, by: Fraction) -> Vector:
    return tuple(x * by for x in v)


class Maker:
    """Scenes from one seed."""

    def __init__(self, seed: int):
        self.random = random.Random(seed)
        # Of its own, so that scenes are the same with stiffnesses and without.
        self.stiffnesses = random.Random(seed)

    def number(self) -> Fraction:
        kind = self.random.random()
        if kind < 0.75:
            return Fraction(self.random.randint(-3, 3))
        if kind < 0.95:
            return Fraction(self.random.randint(-6, 6), 2)
        return Fraction(self.random.randint(-3000, 3000), 1000)

    def vector(self, planar: bool, zero: bool = True) -> Vector:
        while True:
            z = Fraction(0) if planar else self.number()
            found = (self.number(), self.number(), z)
            if zero or any(found):
                return found

    def scene(self, index: int) -> Scene:
        planar = self.random.random() < 0.3
        if self.random.random() < 0.15:
            return self.mechanism(index, planar)
        kinds, light = (PLANAR, LIGHT_PLANAR) if planar else (SPATIAL, LIGHT_SPATIAL)
        only_links = self.random.random() < 0.3
        count = self.random.randint(0, 3 if planar else 4)
        if only_links:
            count = self.random.randint(1, 5 if planar else 8)
        special = self.special(planar)
        supports = []
        for number in range(count):
            pool = ["Link", "Link", "Cable", "Roller"] if only_links else self.random.choice([kinds, light])
            supports.append(self.support(self.random.choice(pool), number, planar, special))
        loads = [self.load(planar) for _ in range(self.random.randint(0, 2))]
        mass = Fraction(self.random.randint(1, 9)) if self.random.random() < 0.5 else None
        size = tuple(Fraction(self.random.randint(1, 8), 2) for _ in range(3))
        self.stiffen(supports)
        return Scene(f"scene-{index:05}", planar, self.vector(planar), size, supports, loads, mass)

    def stiffen(self, supports: list[Support]) -> None:
        """Stiffnesses for some supports, for all, or for none."""
        share = self.stiffnesses.choice([0.0, 0.5, 1.0])
        for support in supports:
            if self.stiffnesses.random() < share:
                support.stiffness = 10 ** self.stiffnesses.randint(0, 4)

    def mechanism(self, index: int, planar: bool) -> Scene:
        """A body with one freedom, mostly, on links and joints alone."""
        kinds = ["Link"] * 2 if planar else self.random.choice([["Link"] * 5, ["BallJoint", "Link", "Link"], ["BallJoint"] * 2])
        if planar and self.random.random() < 0.5:
            kinds = ["Pin", "Link"] if self.random.random() < 0.3 else ["Link"] * 3
        special = self.special(planar)
        supports = [self.support(kind, number, planar, special) for number, kind in enumerate(kinds)]
        size = tuple(Fraction(self.random.randint(1, 8), 2) for _ in range(3))
        return Scene(f"scene-{index:05}", planar, self.vector(planar), size, supports, [self.load(planar)])

    def special(self, planar: bool):
        """What all lines of action have in common now and then: nothing, a point, a line, a direction."""
        kind = self.random.choice(["none", "none", "point", "line", "parallel"])
        return kind, self.vector(planar), self.vector(planar, zero=False)

    def support(self, kind: str, number: int, planar: bool, special) -> Support:
        while True:
            s = Support(kind, f"S{number}", self.vector(planar), self.vector(planar, False),
                        self.vector(planar, False), self.random.random() < 0.5)
            if kind in ("Link", "Cable", "Roller", "Rocker", "SmoothContact") and self.random.random() < 0.8:
                self.aim(s, special)
            if kind in ("Link", "Cable") and s.other == s.at:
                continue
            if not any(s.along) or (kind == "RailWheel" and not any(cross(s.along, s.other))):
                continue
            return s

    def aim(self, s: Support, special) -> None:
        kind, point, direction = special
        if kind == "none":
            return
        if kind == "line":
            point = tuple(p + self.random.randint(-2, 2) * d for p, d in zip(point, direction))
        along = direction if kind == "parallel" else minus(point, s.at)
        s.along = along
        s.other = tuple(a + b for a, b in zip(s.at, along))

    def load(self, planar: bool) -> Load:
        kind = self.random.choice(["Force", "Force", "Couple"])
        amount = tuple(Fraction(self.random.randint(-9, 9) * 10) for _ in range(3))
        if planar:
            amount = (amount[0], amount[1], amount[2]) if kind == "Couple" else (*amount[:2], Fraction(0))
        return Load(kind, self.vector(planar), amount)
