"""Solves the problems of exercise sheets again and checks every answer: `python tests/oracle/sheet.py`.

The problems are the scene files that `sixhold sheet` writes, the answers those of `moodle.xml`, `qti.zip` and
`answers.html` beside them. Reactions come from the reference's tables, ranks from fractions, values from numpy.
"""

from __future__ import annotations

import argparse
import html
import re
import subprocess
import sys
import tempfile
import zipfile
from collections import Counter
from fractions import Fraction
from pathlib import Path
from xml.etree import ElementTree

import numpy as np

import ron
from scenes import UNITS, Load, Scene, Support, minus, reactions
from statics import Statics, null_space, pad

# What one of four digits can be off, relative to the largest force.
ROUNDED = 6e-4
ALONG = {"axis", "normal", "rod", "along", "rail"}
VERDICTS = [
    "Held, statically determinate",
    "Held, statically indeterminate",
    "Not held: too few reactions (partially constrained)",
    "Not held: badly placed reactions (improperly constrained)",
]
QTI = {"q": "http://www.imsglobal.org/xsd/imsqti_v2p1"}


def scene_of(path: Path) -> Scene:
    """The file as the oracle's own scene."""
    file = ron.read(path.read_text())
    planar = file.get("space") == "planar"

    def vector(numbers) -> tuple:
        return tuple([*numbers, Fraction(0)][:3])

    def place(at) -> tuple:
        return vector(file["points"][at] if isinstance(at, str) else at)

    supports, loads = [], []
    for own in file["supports"]:
        given = own.fields
        along = [vector(given[key]) for key in given if key in ALONG]
        other = given.get("normal", given.get("ground", [0, 0, 0]))
        supports.append(Support(
            own.name, given["name"], place(given["at"]), along[0] if along else UNITS[0],
            place(other), given.get("couples", True),
        ))
    for own in file["loads"]:
        given = own.fields
        if own.name == "Force":
            loads.append(Load("Force", place(given["at"]), vector(given["force"])))
        elif own.name == "Couple":
            moment = given["moment"]
            amount = (Fraction(0), Fraction(0), moment) if planar else vector(moment)
            loads.append(Load("Couple", UNITS[0], amount))
        else:
            loads += distributed(place(given["from"]), place(given["to"]), vector(given["start"]),
                                 vector(given.get("end", given["start"])))
    corners = [place(at) for at in file["points"].values()]
    return Scene(path.stem, planar, corners[0], UNITS[0], supports, loads)


def distributed(start: tuple, end: tuple, first: tuple, last: tuple) -> list[Load]:
    """Two forces at the ends with the resultant and the moments of a linear load: L (2 a + b) / 6 and L (a + 2 b) / 6."""
    length = sum(float(x) ** 2 for x in minus(end, start)) ** 0.5
    return [
        Load("Force", at, tuple(length * float(2 * near + far) / 6 for near, far in zip(a, b)))
        for at, a, b in [(start, first, last), (end, last, first)]
    ]


class Solution:
    """What holds of a scene, by other ways."""

    def __init__(self, scene: Scene):
        self.scene, self.statics = scene, Statics(scene)
        self.rank, self.motions = self.statics.exact_rank(), self.statics.motions
        self.unknowns = len(self.statics.listed)
        columns = [self.column(*listed[:3]) for _, listed in self.statics.listed]
        self.matrix = np.array(columns).T
        load = self.statics.wrench(self.statics.length)
        self.values = -np.linalg.pinv(self.matrix, rcond=1e-9) @ load
        left = np.abs(load + self.matrix @ self.values).max() / np.abs(load).max()
        self.balanced = left < 1e-9
        self.stress = null_space(self.matrix, self.rank)

    def column(self, kind: str, direction: tuple, point: tuple) -> np.ndarray:
        unit = np.array([float(x) for x in direction])
        return self.statics.column(kind, unit / np.linalg.norm(unit), np.array([float(x) for x in point]), self.statics.length)

    def counts(self) -> dict[str, int]:
        return {
            "unknowns": self.unknowns, "rank": self.rank,
            "freedom": self.motions - self.rank, "redundancy": self.unknowns - self.rank,
        }

    def verdict(self) -> str:
        held = self.rank == self.motions
        if held:
            return VERDICTS[self.unknowns > self.rank]
        return VERDICTS[2 if self.unknowns < self.motions else 3]

    def functional(self, support: str, kind: str, direction: np.ndarray) -> np.ndarray:
        """What gives the component of a support's force or couple along a unit direction."""
        row = np.zeros(self.unknowns)
        for j, (own, (own_kind, along, _, _)) in enumerate(self.statics.listed):
            if own.name == support and own_kind == kind:
                unit = np.array([float(x) for x in along])
                row[j] = direction @ (unit / np.linalg.norm(unit))
        return row

    def value(self, row: np.ndarray, kind: str) -> float | None:
        """The component, in N or N·m; None where equilibrium leaves it open or there is none."""
        known = not self.stress.size or np.abs(row @ self.stress).max() < 1e-8
        if not (known and self.balanced):
            return None
        return row @ self.values * (self.statics.length if kind == "couple" else 1.0)

    def known(self) -> int:
        """How many of the reactions along the frames of the supports follow; those of links and surfaces have one each."""
        return sum(self.value(row, "force") is not None for row in np.eye(self.unknowns))

    def largest(self) -> float:
        return max(np.abs(self.values).max(), 1.0)


def words(text: str) -> str:
    return html.unescape(re.sub(r"<[^>]*>", "", text)).replace("\u2212", "-").replace("\u00a0", " ")


def direction(text: str) -> np.ndarray:
    """`x`, `-z` or components of any length, as a unit vector."""
    axis = re.fullmatch(r"(-?)([xyz])", text)
    if axis:
        unit = np.array([float(x) for x in UNITS["xyz".index(axis[2])]])
        return -unit if axis[1] else unit
    numbers = [float(part) for part in text.strip("()").split(",")]
    vector = pad(np.array(numbers), "point", len(numbers) == 2)
    return vector / np.linalg.norm(vector)


class Check:
    """A folder of a sheet against the solutions of its scenes."""

    def __init__(self, folder: Path):
        self.folder, self.counts, self.faults = folder, Counter(), []
        paths = sorted((folder / "scenes").glob("problem-*.ron"))
        self.solutions = [Solution(scene_of(path)) for path in paths]
        self.values: list[dict[str, float]] = [{} for _ in paths]

    def check(self, what: str, good: bool, detail: object) -> None:
        self.counts[what] += 1
        if not good:
            self.faults.append(f"{what}: {detail}")

    def run(self) -> None:
        self.moodle()
        self.qti()
        self.answers()

    def moodle(self) -> None:
        questions = ElementTree.parse(self.folder / "moodle.xml").getroot().findall("question")
        for question in questions[1:]:
            number, name = re.fullmatch(r"Problem (\d+): (.*)", question.findtext("name/text")).groups()
            solution, known = self.solutions[int(number) - 1], self.values[int(number) - 1]
            right = [a.findtext("text") for a in question.findall("answer") if a.get("fraction") == "100"]
            assert len(right) == 1
            if name == "verdict":
                self.check("verdict", solution.verdict() == right[0], (number, right))
            elif name in solution.counts():
                self.check("one of the four numbers", solution.counts()[name] == int(right[0]), (number, name, right))
            else:
                tolerance = float(question.findtext("answer/tolerance"))
                asked = words(question.findtext("questiontext/text"))
                known[name] = float(right[0])
                self.reaction(solution, f"{number}: {name}", name, asked, float(right[0]), tolerance)
        for number, (solution, known) in enumerate(zip(self.solutions, self.values), 1):
            if solution.unknowns == solution.rank:
                self.check("number of reactions", len(known) == solution.known(), (number, known))

    def reaction(self, solution: Solution, place: str, name: str, asked: str, told: float, tolerance: float) -> None:
        unit, along = re.search(r"in (N|N·m)\? It acts on the body and is positive along (.*)\.\s*$", asked).groups()
        kind = "couple" if unit == "N·m" else "force"
        support = re.search(r"(?<=_)[A-Z]|^[A-Z](?=_[a-z])", name).group()
        row = solution.functional(support, kind, self.about(solution, kind, along))
        ours = solution.value(row, kind)
        self.check("value of a reaction", ours is not None and abs(ours - told) < 1e-5 * solution.largest(), (place, ours, told))
        self.check("tolerance", 0 < tolerance <= 0.011 * solution.largest(), (place, tolerance))

    def about(self, solution: Solution, kind: str, along: str) -> np.ndarray:
        if solution.scene.planar and kind == "couple":
            return np.array([0.0, 0.0, 1.0])
        return direction(along)

    def qti(self) -> None:
        """The package asks the same and expects the same."""
        package = zipfile.ZipFile(self.folder / "qti.zip")
        self.check("package", package.testzip() is None, "a file is broken")
        names = sorted(name for name in package.namelist() if re.fullmatch(r"problem-\d+-\d+\.xml", name))
        told = [{} for _ in self.solutions]
        for name in names:
            item = ElementTree.fromstring(package.read(name))
            number, asked = re.fullmatch(r"Problem (\d+): (.*)", item.get("title")).groups()
            told[int(number) - 1][asked] = item.findtext(".//q:correctResponse/q:value", namespaces=QTI)
        for number, (solution, known, answers) in enumerate(zip(self.solutions, self.values, told), 1):
            right = VERDICTS.index(solution.verdict())
            self.check("verdict of the package", answers.pop("verdict") == "ABCD"[right], number)
            expected = {**{name: float(count) for name, count in solution.counts().items()}, **known}
            self.check("answers of the package", {k: float(v) for k, v in answers.items()} == expected, (number, answers))

    def answers(self) -> None:
        """The values of the sheet to mark by, of four digits; a link in compression has no sign."""
        text = (self.folder / "answers.html").read_text()
        items = re.findall(r"<li>(.*?)</li>", text, re.S)
        assert len(items) == len(self.solutions)
        for number, (item, known) in enumerate(zip(items, self.values), 1):
            item = words(item)
            largest = max([1.0, *(abs(value) for value in known.values())])
            for name, value in known.items():
                found = re.search(rf"\b{name.replace('_', '')} = (-?[\d.]+(?: × 10\d+)?) ?N?(?:·m)? ?(\([TC]\))?", item)
                told = found and float(found[1]) * (-1 if found[2] == "(C)" else 1)
                self.check("value to mark by", found is not None and abs(told - value) <= ROUNDED * largest, (number, name, value, told))


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--program", default="target/debug/sixhold")
    parser.add_argument("--count", type=int, default=40)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--about", default="mixed", help="topics as the program takes them")
    args = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        made = [args.program, "sheet", "--about", args.about, "--count", str(args.count), "--seed", str(args.seed), "--out", folder]
        subprocess.run(made, check=True, capture_output=True)
        check = Check(Path(folder))
        check.run()
    for what, count in sorted(check.counts.items()):
        print(f"{count:8} {what}")
    print(*check.faults, sep="\n", end="\n" if check.faults else "")
    print(f"{sum(check.counts.values()) - len(check.faults)} passed, {len(check.faults)} failed")
    return 1 if check.faults else 0


if __name__ == "__main__":
    sys.exit(main())
