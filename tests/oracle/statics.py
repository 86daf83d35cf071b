"""What a scene's statics are, computed again: ranks by fractions, the rest with numpy and scipy.

Nothing here knows how Sixhold computes: reactions come from the reference's tables, singular values and null spaces
from LAPACK, verdicts on one-way supports from linear programs (HiGHS).
"""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations

import numpy as np
from scipy.optimize import linprog, nnls

from scenes import Scene, Support, cross, dot, minus, reactions


def exact_rank(rows: list[list[Fraction]]) -> int:
    rows = [row[:] for row in rows]
    rank = 0
    for column in range(len(rows[0]) if rows else 0):
        pivot = next((i for i in range(rank, len(rows)) if rows[i][column]), None)
        if pivot is None:
            continue
        rows[rank], rows[pivot] = rows[pivot], rows[rank]
        for i in range(rank + 1, len(rows)):
            factor = rows[i][column] / rows[rank][column]
            if factor:
                rows[i] = [a - factor * b for a, b in zip(rows[i], rows[rank])]
        rank += 1
    return rank


def rank_of(matrix: np.ndarray, tolerance: float = 1e-9) -> int:
    if matrix.size == 0:
        return 0
    values = np.linalg.svd(matrix, compute_uv=False)
    return int((values > tolerance * max(values[0], 1e-300)).sum())


class Statics:
    """The reactions of a scene as columns (force; moment about the reference point over the length)."""

    def __init__(self, scene: Scene):
        self.scene = scene
        self.rows = [0, 1, 5] if scene.planar else [0, 1, 2, 3, 4, 5]
        self.motions = len(self.rows)
        self.listed = [(s, r) for s in scene.supports for r in reactions(scene, s)]
        # A link's column lies at its body end, which is where the support stands.
        points = sorted({s.at for s in scene.supports}) or [scene.centre]
        self.reference = tuple(sum(p[i] for p in points) / len(points) for i in range(3))
        offsets = [minus(p, self.reference) for p in points]
        square = sum((dot(o, o) for o in offsets), Fraction(0)) / len(points)
        self.length = float(square) ** 0.5
        self.is_point = square == 0

    def exact_columns(self) -> list[list[Fraction]]:
        columns = []
        for _, (kind, direction, point, _) in self.listed:
            arm = cross(minus(point, self.reference), direction)
            six = [*direction, *arm] if kind == "force" else [Fraction(0)] * 3 + list(direction)
            columns.append([six[row] for row in self.rows])
        return columns

    def exact_rank(self) -> int:
        return exact_rank(self.exact_columns())

    def columns_from(self, report: dict, length: float) -> np.ndarray:
        """Columns of the reactions that a report lists, in its order."""
        columns = [
            self.column(r["kind"], np.array(r["direction"]), np.array(r["point"]), length)
            for r in report["reactions"]
        ]
        return np.array(columns).T.reshape(self.motions, len(columns))

    def column(self, kind: str, direction: np.ndarray, point: np.ndarray, length: float) -> np.ndarray:
        direction, point = pad(direction, kind, self.scene.planar), pad(point, "point", self.scene.planar)
        if kind == "couple":
            six = np.concatenate([np.zeros(3), direction])
        else:
            arm = point - np.array([float(x) for x in self.reference])
            six = np.concatenate([direction, np.cross(arm, direction) / length])
        return six[self.rows]

    def own_columns(self, support: Support, length: float) -> np.ndarray:
        """Columns of one support by the reference's tables, of unit length."""
        columns = []
        for kind, direction, point, _ in reactions(self.scene, support):
            unit = np.array([float(x) for x in direction])
            unit = unit / np.linalg.norm(unit)
            columns.append(self.column(kind, unit, np.array([float(x) for x in point]), length))
        return np.array(columns).T

    def wrench(self, length: float, scaled: bool = True) -> np.ndarray:
        """All loads, about the reference point."""
        total, scene = np.zeros(6), self.scene
        reference = np.array([float(x) for x in self.reference])
        forces = []
        for load in scene.loads:
            amount = np.array([float(x) for x in load.amount])
            if load.kind == "Couple":
                total[3:] += np.array([0, 0, amount[2]]) if scene.planar else amount
            else:
                forces.append((np.array([float(x) for x in load.at]), amount))
        if scene.mass is not None:
            down = np.array([0.0, -1, 0]) if scene.planar else np.array([0.0, 0, -1])
            forces.append((np.array([float(x) for x in scene.centre]), down * float(scene.mass) * 9.80665))
        for point, force in forces:
            total[:3] += force
            total[3:] += np.cross(point - reference, force)
        if scaled:
            total[3:] /= length
        return total[self.rows]


def pad(vector: np.ndarray, kind: str, planar: bool) -> np.ndarray:
    if len(vector) == 3:
        return vector
    if kind == "couple":
        return np.array([0.0, 0.0, 1.0])
    return np.array([*vector, 0.0])


def null_space(matrix: np.ndarray, rank: int) -> np.ndarray:
    """Orthonormal columns x with matrix x = 0."""
    if matrix.shape[1] == 0:
        return np.zeros((0, 0))
    _, _, right = np.linalg.svd(matrix, full_matrices=True)
    return right[rank:].T


def circuits(matrix: np.ndarray) -> set[frozenset[int]]:
    """All minimal dependent sets of columns, by trying every set."""
    count = matrix.shape[1]
    found: set[frozenset[int]] = set()
    for size in range(1, min(count, matrix.shape[0] + 1) + 1):
        for chosen in combinations(range(count), size):
            if not any(circuit <= set(chosen) for circuit in found) and rank_of(matrix[:, chosen]) < size:
                found.add(frozenset(chosen))
    return found


def balances(matrix: np.ndarray, load: np.ndarray, one_way: list[int], grips=None, limit: float = 1e3, slack: float = 1e-7):
    """Whether one-way reactions that are not negative can balance a load; None where that hangs on rounding.

    The least residual in the largest row decides: far under the tolerance or far over it. Each reaction along the surface
    of a rough contact, by that of its push in `grips`, is at most `limit` times the push.
    """
    rows, count = matrix.shape
    size = max(np.abs(load).max(initial=0.0), 1e-300)
    target = -load / size
    # minimise t with |matrix x - target| <= t
    block = np.block([[matrix, -np.ones((rows, 1))], [-matrix, -np.ones((rows, 1))]])
    bounds = [(0, None) if j in one_way else (None, None) for j in range(count)] + [(0, None)]
    cost = np.zeros(count + 1)
    cost[-1] = 1
    limits = []
    for push, along in (grips or {}).items():
        for j in along:
            for sign in (1, -1):
                row = np.zeros(count + 1)
                row[j], row[push] = sign / limit, -1
                limits.append(row)
    block = np.vstack([block, *limits])
    most = np.concatenate([target, -target, np.zeros(len(limits))])
    answer = linprog(cost, A_ub=block, b_ub=most, bounds=bounds, method="highs")
    if answer.status != 0:
        return None
    if answer.fun <= slack:
        return True
    return False if answer.fun > 1e-4 else None


def springs(matrix: np.ndarray, load: np.ndarray, one_way: list[int], stiffness: np.ndarray, rank: int):
    """The reactions of least energy, sum of R^2 / k, that balance a load, those one-way not negative; None where none were found.

    Without signs the pseudoinverse gives them. With signs they are a least-distance problem, which becomes one of least squares
    without negative unknowns (Lawson & Hanson 1974, chapter 23).
    """
    root = np.sqrt(stiffness)
    weighted = matrix * root
    least = -np.linalg.pinv(weighted, rcond=1e-12) @ load
    stresses = null_space(weighted, rank)
    if not one_way or not stresses.size:
        return root * least
    size = max(np.linalg.norm(least), 1e-300)
    bounds, gains = -least[one_way] / size, stresses[one_way]
    if (bounds <= 0).all():
        return root * least
    wanted = np.zeros(stresses.shape[1] + 1)
    wanted[-1] = 1
    left = np.vstack([gains.T, bounds])
    unknowns, residual = nnls(left, wanted, maxiter=10_000)
    if residual < 1e-7:
        return None
    off = left @ unknowns - wanted
    return root * (least - size * (stresses @ off[:-1]) / off[-1])


def extremes(matrix: np.ndarray, load: np.ndarray, one_way: list[int], j: int):
    """Smallest and largest value of a reaction that balances a load; infinite where nothing bounds it."""
    count = matrix.shape[1]
    bounds = [(0, None) if i in one_way else (None, None) for i in range(count)]
    ends = []
    for sign in (1, -1):
        cost = np.zeros(count)
        cost[j] = sign
        answer = linprog(cost, A_eq=matrix, b_eq=-load, bounds=bounds, method="highs")
        if answer.status == 3:
            ends.append(-sign * np.inf)
        elif answer.status == 0:
            ends.append(sign * answer.fun)
        else:
            return None
    return ends


def holds_every_load(matrix: np.ndarray, one_way: list[int], rank: int):
    """Whether the columns span positively: full rank, and some positive combination of all one-way ones is two-way."""
    if rank < matrix.shape[0]:
        return False
    # One-way reactions of at least 1 in a self-stress.
    bounds = [(1, None) if j in one_way else (None, None) for j in range(matrix.shape[1])]
    zero = np.zeros(matrix.shape[1])
    answer = linprog(zero, A_eq=matrix, b_eq=np.zeros(matrix.shape[0]), bounds=bounds, method="highs")
    return {0: True, 2: False}.get(answer.status)
