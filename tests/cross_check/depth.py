"""Values for tests/suite/depth, found by other means than the program's: run by hand.

    pip install numpy scipy
    python tests/cross_check/depth.py
"""
import numpy as np
from scipy.optimize import linprog, minimize


def links(rows):
    points = np.array([at for at, _ in rows], float)
    n = np.array([np.subtract(ground, at) for at, ground in rows], float)
    return points, n / np.linalg.norm(n, axis=1)[:, None]


def least_movement(points, n, starts=30, seed=1):
    """Least sum of squares of movements d_j such that some twist does no work: over twist and movements at once."""
    count = len(points)

    def powers(x):
        v, w, d = x[:3], x[3:6], x[6:].reshape(count, 3)
        return np.einsum("ij,ij->i", n, v + np.cross(w, points + d))

    best = np.inf
    rng = np.random.default_rng(seed)
    for _ in range(starts):
        x = np.concatenate([rng.normal(size=6), rng.normal(size=3 * count) * 0.1])
        x[3:6] /= np.linalg.norm(x[3:6])
        found = minimize(
            lambda x: np.sum(x[6:] ** 2),
            x,
            jac=lambda x: np.concatenate([np.zeros(6), 2 * x[6:]]),
            constraints=[
                {"type": "eq", "fun": powers},
                {"type": "eq", "fun": lambda x: x[3:6] @ x[3:6] - 1},
            ],
            method="SLSQP",
            options={"maxiter": 500, "ftol": 1e-15},
        )
        if found.success and np.abs(powers(found.x)).max() < 1e-9:
            best = min(best, np.sqrt(found.fun))
    return best


def bound(points, n):
    """Limit of L sigma_6 for a large L about the centroid: numpy's singular values, no projection."""
    arms = points - points.mean(axis=0)
    large = 1e5
    return np.linalg.svd(np.vstack([n.T * large, np.cross(arms, n).T]), compute_uv=False)[-1]


SIX = links([
    ((1, 0.5, 0), (1.5, 0.5, -1)),
    ((-1, 0.5, 0), (-1, 0.2, -1)),
    ((0, -1, 0), (0.3, -1, -1)),
    ((1, 1, 0), (1, 2, 0.1)),
    ((-1, 1, 0), (-1.2, 2, 0)),
    ((-1, -1, 0), (-2, -1, 0.4)),
])
print("six links: bound", repr(bound(*SIX)), "least movement", repr(least_movement(*SIX)))

# Plate on five feet that only push, under a weight off the middle: range of each foot.
feet = np.array([(0, 0), (3, 0), (3, 2), (0, 2), (1, 1)], float)
matrix = np.vstack([np.ones(5), feet.T])
load = np.array([10, 10 * 1.2, 10 * 0.7])
for j in range(5):
    ends = [s * linprog(s * np.eye(5)[j], A_eq=matrix, b_eq=load, bounds=(0, None)).fun for s in (1, -1)]
    print("foot", j, ends)
