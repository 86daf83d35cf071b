"""Computes the statics of random scenes again, by other ways, and compares: `python tests/oracle/main.py`.

Any mismatch is printed with its scene, which is kept in the folder that --keep names, and the exit code is 1.
"""

from __future__ import annotations

import argparse
import json
import random
import subprocess
import sys
import tempfile
from collections import Counter
from pathlib import Path

import numpy as np

import contact
import dynamics
from scenes import Maker, Scene
from statics import Statics, balances, circuits, extremes, holds_every_load, null_space, rank_of, springs

# Reports print twelve significant digits.
PRINTED = 1e-9


class Comparison:
    """One scene against its report."""

    def __init__(self, scene: Scene, report: dict, counts: Counter):
        self.scene, self.report, self.counts = scene, report, counts
        self.statics = Statics(scene)
        self.length = report["characteristic_length"]
        self.matrix = self.statics.columns_from(report, self.length)
        self.rank = report["rank"]
        self.faults: list[str] = []
        senses = [sense for _, (_, _, _, sense) in self.statics.listed]
        self.one_way = self.one_way_columns()
        assert len(senses) == self.matrix.shape[1] or self.faults.append("number of reactions")

    def check(self, what: str, good: bool, detail: object = "") -> None:
        self.counts[what] += 1
        if not good:
            self.faults.append(f"{what}: {detail}")

    def close(self, what: str, ours: float, told: float, scale: float = 1.0) -> None:
        self.check(what, abs(ours - told) <= 1e-7 * max(abs(scale), abs(ours)), f"{ours} against {told}")

    def one_way_columns(self) -> list[int]:
        kinds = {s.name: s.kind for s in self.scene.supports}
        pushing = ("Roller", "Rocker", "SmoothContact", "Cable")
        found = []
        for j, reaction in enumerate(self.report["reactions"]):
            kind = kinds[reaction["support"]]
            if kind in pushing or (kind == "RoughContact" and reaction["name"].startswith("N_")):
                found.append(j)
        return found

    def grips(self) -> dict[int, list[int]]:
        """The reactions along the surface of each rough contact, by that of its push."""
        reactions = list(enumerate(self.report["reactions"]))
        found = {}
        for push in self.one_way:
            support = self.report["reactions"][push]["support"]
            along = [j for j, r in reactions if r["support"] == support and j != push]
            if along:
                found[push] = along
        return found

    def run(self) -> list[str]:
        self.layout()
        self.ranks()
        self.motions()
        self.redundancy()
        self.loads()
        self.one_way_answers()
        self.elastic()
        self.nearness()
        self.heat()
        self.repairs()
        self.accelerations()
        self.finite()
        return self.faults

    def layout(self) -> None:
        for support in self.scene.supports:
            told = [j for j, r in enumerate(self.report["reactions"]) if r["support"] == support.name]
            own = self.statics.own_columns(support, self.length)
            self.check("reactions of a support", own.shape[1] == len(told), support)
            both = np.hstack([own, self.matrix[:, told]])
            self.check("span of a support", rank_of(both) == rank_of(own) == rank_of(self.matrix[:, told]), support)
        if not self.statics.is_point:
            self.close("characteristic length", self.statics.length, self.length)
            ours = np.array([float(x) for x in self.statics.reference])
            off = np.abs(ours - np.array(self.report["reference_point"])).max()
            self.check("reference point", off < PRINTED * (1 + np.abs(ours).max()), ours)

    def ranks(self) -> None:
        exact = self.statics.exact_rank()
        self.check("exact rank", exact == self.report["exact_rank"], exact)
        self.check("numeric rank", exact == self.rank or rank_of(self.matrix) == self.rank, exact)
        self.check("freedom", self.report["freedom"] == self.statics.motions - self.rank)
        self.check("redundancy", self.report["redundancy"] == self.matrix.shape[1] - self.rank)
        values = np.linalg.svd(self.matrix, compute_uv=False) if self.matrix.size else np.zeros(0)
        told = np.array(self.report["singular_values"])
        padded = np.pad(values, (0, max(0, len(told) - len(values))))[: len(told)]
        self.check("singular values", np.allclose(padded, told, atol=1e-9, rtol=1e-9), values)

    def twist(self, motion: dict) -> np.ndarray:
        """(velocity at the reference point; length times spin) of a motion as told."""
        direction, reference = np.array(motion["direction"]), np.array(self.report["reference_point"])
        if motion["kind"] == "translation":
            six = np.concatenate([direction, np.zeros(3)])
        else:
            pitch = motion["pitch"] or 0.0
            velocity = np.cross(direction, reference - np.array(motion["point"])) + pitch * direction
            six = np.concatenate([velocity, direction * self.length])
        return six[self.statics.rows]

    def motions(self) -> None:
        twists = [self.twist(m) for m in self.report["free_motions"]]
        self.check("number of motions", len(twists) == self.report["freedom"])
        for motion, twist in zip(self.report["free_motions"], twists):
            power = np.abs(self.matrix.T @ twist).max(initial=0.0)
            self.check("a motion does no work", power < 1e-7 * np.linalg.norm(twist), (motion["words"], power))
            self.check("kind and pitch", (motion["kind"] == "rotation") == (motion["pitch"] == 0.0), motion)
        if twists:
            unit = np.array([t / np.linalg.norm(t) for t in twists]).T
            self.check("motions are independent", rank_of(unit, 1e-7) == len(twists))
        for axis in self.report["shared_axes"]:
            twist = self.twist({**axis, "kind": "rotation", "pitch": 0.0})
            power = np.abs(self.matrix.T @ twist).max(initial=0.0)
            self.check("a shared axis is met", power < 1e-7 * np.linalg.norm(twist), axis)

    def redundancy(self) -> None:
        names = [r["name"] for r in self.report["reactions"]]
        for circuit in self.report["circuits"]:
            chosen = [names.index(name) for name in circuit["reactions"]]
            columns, x = self.matrix[:, chosen], np.array(circuit["coefficients"])
            scale = np.abs(x).max()
            lengths = np.array([self.length if self.report["reactions"][j]["kind"] == "couple" else 1.0 for j in chosen])
            off = np.abs(columns @ (x / lengths)).max() / scale
            self.check("a group balances itself", off < 1e-7, (circuit["reactions"], off))
            self.check("a group is minimal", rank_of(columns, 1e-8) == len(chosen) - 1, circuit["reactions"])
        if self.report["circuits_listed"] == "all" and len(names) <= 9:
            ours = circuits(self.matrix)
            told = {frozenset(names.index(n) for n in c["reactions"]) for c in self.report["circuits"]}
            self.check("all groups", ours == told, (sorted(map(sorted, ours)), sorted(map(sorted, told))))

    def loads(self) -> None:
        load = self.statics.wrench(self.length)
        size = np.linalg.norm(load)
        answer = self.report["equilibrium"][0]
        if size == 0.0:
            return
        x = -np.linalg.pinv(self.matrix, rcond=1e-9) @ load if self.matrix.size else np.zeros(0)
        left = np.linalg.norm(load + (self.matrix @ x if self.matrix.size else 0.0)) / size
        if 1e-10 < left < 1e-6:
            return
        self.check("equilibrium is possible", (left <= 1e-10) == answer["possible"], left)
        if not answer["possible"]:
            return
        stress = null_space(self.matrix, self.rank)
        for j, told in enumerate(answer["values"]):
            decided = np.linalg.norm(stress[j]) < 1e-8 if stress.size else True
            self.check("whether a reaction is decided", decided == (told is not None), self.report["reactions"][j]["name"])
            if decided and told is not None:
                self.close("value of a reaction", self.in_units(j, x[j]), told, size)

    def in_units(self, j: int, value: float) -> float:
        return value * (self.length if self.report["reactions"][j]["kind"] == "couple" else 1.0)

    def one_way_answers(self) -> None:
        told = self.report["one_way"]
        self.check("whether supports are one-way", (told is not None) == bool(self.one_way))
        if told is None:
            return
        load = self.statics.wrench(self.length)
        case = told["cases"][0]
        holds = balances(self.matrix, load, self.one_way, self.grips())
        if holds is not None:
            self.check("one-way: the load is carried", holds == case["holds"], holds)
        if holds and case["holds"]:
            for j, limits in enumerate(case["ranges"]):
                ours = extremes(self.matrix, load, self.one_way, j)
                if limits is None or ours is None:
                    continue
                for own, end in zip(ours, limits):
                    finite = np.isfinite(own)
                    self.check("one-way: whether a range is bounded", finite == (end is not None), (j, ours, limits))
                    if finite and end is not None:
                        scale = max(np.linalg.norm(load), *(abs(o) for o in ours if np.isfinite(o)))
                        good = abs(self.in_units(j, own) - end) <= 1e-6 * scale * max(1.0, self.length)
                        self.check("one-way: ends of a range", good, (j, ours, limits))
        every = holds_every_load(self.matrix, self.one_way, self.rank)
        if every is not None:
            self.check("one-way: every load", every == told["every_load"], every)
        for escape, power in [(told["escape"], None), (case["escape"], load)]:
            if escape is None:
                continue
            twist = self.twist(escape["motion"]) * (1 if escape["sense"] == "positive" else -1)
            rates = self.matrix.T @ twist / np.linalg.norm(twist)
            gone = {j for push, along in self.grips().items() if rates[push] > 1e-6 for j in along}
            broken = [
                j for j in range(len(rates))
                if j not in gone and (rates[j] < -1e-6 if j in self.one_way else abs(rates[j]) > 1e-6)
            ]
            self.check("one-way: an escape breaks no support", not broken, (escape["motion"]["words"], broken))
            if power is not None:
                self.check("one-way: the load drives the escape", power @ twist > 0, escape["motion"]["words"])

    def stiffnesses(self) -> np.ndarray:
        """Of the reactions in scaled units, by the rules of the reference alone."""
        given = {s.name: s.stiffness for s in self.scene.supports}
        own = [given[r["support"]] for r in self.report["reactions"]]
        # A couple is as stiff as its support's forces at the characteristic length: in scaled units alike. A support that
        # supplies couples alone has none of these.
        known = [k for k in own if k is not None]
        return np.array([k if k is not None else max(known, default=1) for k in own], dtype=float)

    def elastic(self) -> None:
        case = self.report["elastic"]["cases"][0]
        load = self.statics.wrench(self.length)
        size = np.linalg.norm(load)
        carried = self.report["equilibrium"][0]["possible"]
        if self.one_way and carried:
            carried = self.report["one_way"]["cases"][0]["holds"]
        self.check("springs: the load is carried", carried == (case["outcome"] != "not_carried"), case)
        if not carried or not self.matrix.size or size == 0.0:
            return
        if self.grips():
            self.counts["springs: rough contacts, left to the property tests"] += 1
            return
        self.check("springs: found", case["outcome"] == "solved", case)
        ours = springs(self.matrix, load, self.one_way, self.stiffnesses(), self.rank)
        if ours is None or case["outcome"] != "solved":
            return
        what = "springs with signs" if self.one_way else "springs"
        for j, told in enumerate(case["values"]):
            good = abs(self.in_units(j, ours[j]) - told) <= 1e-6 * max(size, np.abs(ours).max()) * max(1.0, self.length)
            self.check(f"{what}: value of a reaction", good, (self.report["reactions"][j]["name"], ours, case["values"]))

    def nearness(self) -> None:
        told = self.report["nearness"]
        movement = told and told["movement"]
        if not movement or self.report["freedom"]:
            return
        self.check("nearness: bound under estimate", movement["bound"] <= movement["estimate"] * (1 + 1e-6), movement)
        moved = self.matrix.copy()
        for move in movement["moves"]:
            by = np.array(move["by"])
            for j, reaction in enumerate(self.report["reactions"]):
                if reaction["support"] == move["support"]:
                    point = np.array(reaction["point"]) + by
                    moved[:, j] = self.statics.column(reaction["kind"], np.array(reaction["direction"]), point, self.length)
        values = np.linalg.svd(moved, compute_uv=False)
        self.check("nearness: the estimate lets go", values[-1] < 1e-6 * values[0], values)
        shift = np.sqrt(sum(np.dot(m["by"], m["by"]) for m in movement["moves"]))
        self.close("nearness: size of the estimate", shift, movement["estimate"])

    def heat(self) -> None:
        told = self.report["heat"]
        if told is None:
            return
        gaps = np.zeros(self.matrix.shape[1])
        for j, reaction in enumerate(self.report["reactions"]):
            if reaction["kind"] == "force":
                arm = np.array(reaction["point"]) - np.array(self.report["reference_point"])
                gaps[j] = np.dot(reaction["direction"], arm) / self.length
        stress = null_space(self.matrix, self.rank)
        locked = np.abs(stress.T @ gaps).max(initial=0.0)
        if not 1e-9 < locked < 1e-6:
            self.check("heat: free or locked", told["free"] == (locked <= 1e-9), locked)

    def repairs(self) -> None:
        repairs = self.report["repairs"]
        if repairs and repairs["links"]:
            added = []
            for link in repairs["links"]:
                along = np.array(link["ground"]) - np.array(link["at"])
                added.append(self.statics.column("force", along / np.linalg.norm(along), np.array(link["at"]), self.length))
            whole = np.hstack([self.matrix, np.array(added).T])
            self.check("repair: rank", rank_of(whole) == self.statics.motions)
        releases = self.report["releases"]
        if not releases:
            return
        names = [r["name"] for r in self.report["reactions"]]
        redundant = {
            names[j] for j in range(len(names))
            if rank_of(np.delete(self.matrix, j, axis=1)) == self.rank
        }
        told = {r["reaction"] for r in releases["alone"]}
        self.check("release: number", releases["count"] == len(redundant), (releases["count"], len(redundant)))
        self.check("release: frees nothing", told <= redundant, told - redundant)

    def accelerations(self) -> None:
        told = {a["case"]: a for a in self.report["acceleration"] or []}
        if self.scene.mass is None or len(self.one_way) > 8:
            return
        case = self.report["equilibrium"][0]["case"]
        found = dynamics.accelerations(self.statics, self.matrix, self.one_way, self.grips(), self.length)
        if len(found) != 1 and not self.grips():
            return
        load = np.linalg.norm(self.statics.wrench(self.length))
        answer = told.get(case)
        starts = answer is not None and (answer["size"] or 0.0) > 0.0
        twist = np.zeros(len(self.statics.rows))
        if starts:
            twist = self.twist(answer["motion"]) * answer["size"] * (1 if answer["sense"] == "positive" else -1)
        if not found:
            self.counts["acceleration: none with friction without limit"] += 1
            return
        what = "with rough contacts" if self.grips() else "by Gauss's principle"
        # The matrix is read from printed digits; what is left of a load that the supports carry comes from them.
        off = min(np.abs(twist - a).max() / max(1e-6 * np.abs(a).max(), PRINTED * load) for a in found)
        self.check(f"acceleration: {what}", off < 1, (found, twist))
        if not starts:
            return
        if self.report["freedom"] == 1 and answer["motion"]["kind"] == "rotation" and not answer["loosened"]:
            motion = answer["motion"]
            size = dynamics.hinge_acceleration(self.statics, motion["point"], motion["direction"])
            signed = answer["size"] * (1 if answer["sense"] == "positive" else -1)
            self.check("acceleration: on a hinge in MuJoCo", abs(size - signed) < 1e-6 * abs(size), (size, signed))

    def finite(self) -> None:
        if self.report["freedom"] != 1 or not dynamics.Follower.covers(self.scene):
            return
        motion = self.report["free_motions"][0]
        follower = dynamics.Follower(self.statics, self.length)
        twist = self.twist(motion)
        ways = [follower.goes_on(sense * twist, self.rank) for sense in (1, -1)]
        if None in ways:
            return
        self.check("finite motion", any(ways) == motion["mobility"]["real"], (ways, motion["words"]))


def reports(program: str, scenes: list[Scene], folder: Path) -> list[dict]:
    for scene in scenes:
        (folder / f"{scene.name}.ron").write_text(scene.text())
    paths = [str(folder / f"{scene.name}.ron") for scene in scenes]
    run = subprocess.run([program, "check", "--format", "json", *paths], capture_output=True, text=True)
    if run.returncode not in (0, 1):
        said = [line for line in run.stderr.splitlines() if ": warning:" not in line and "hint:" not in line]
        sys.exit(f"{program} failed:\n" + "\n".join(said[:20]))
    found = json.loads(run.stdout)
    return found if isinstance(found, list) else [found]


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--program", default="target/debug/sixhold")
    parser.add_argument("--count", type=int, default=300)
    parser.add_argument("--contacts", type=int, default=60, help="bodies on an axis, simulated with unilateral contact")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--keep", type=Path, help="folder for scenes that do not match")
    args = parser.parse_args()
    counts: Counter = Counter()
    maker, chance = Maker(args.seed), random.Random(args.seed)
    failed = compare(args, [maker.scene(index) for index in range(args.count)], counts, recompute)
    failed += compare(args, [contact.scene(chance, index) for index in range(args.contacts)], counts, simulate)
    for what, count in sorted(counts.items()):
        print(f"{count:8} {what}")
    print(f"{args.count + args.contacts - failed} passed, {failed} failed")
    return 1 if failed else 0


def recompute(scene: Scene, report: dict, counts: Counter) -> list[str]:
    return Comparison(scene, report, counts).run()


def simulate(scene: Scene, report: dict, counts: Counter) -> list[str]:
    compared, faults = contact.faults(scene, report)
    counts["a sense of motion on a one-way support, simulated"] += compared
    return faults


def compare(args: argparse.Namespace, scenes: list[Scene], counts: Counter, check) -> int:
    """How many scenes do not match; each is printed with what does not."""
    failed = 0
    for start in range(0, len(scenes), 100):
        some = scenes[start : start + 100]
        with tempfile.TemporaryDirectory() as folder:
            told = reports(args.program, some, Path(folder))
        for scene, report in zip(some, told, strict=True):
            faults = check(scene, report, counts)
            if not faults:
                continue
            failed += 1
            print(f"--- {scene.name} of seed {args.seed}", *faults, scene.text(), sep="\n")
            if args.keep:
                args.keep.mkdir(parents=True, exist_ok=True)
                (args.keep / f"seed-{args.seed}-{scene.name}.ron").write_text(scene.text())
    return failed


if __name__ == "__main__":
    sys.exit(main())
