"""First accelerations and motions that last, from a general physics engine and from a follower of paths of our own.

MuJoCo gives the mass matrix of the free body and the acceleration of one on a hinge; a one-way support that
lets go is found by trying every set of those that stay.
"""

from __future__ import annotations

from itertools import combinations

import mujoco
import numpy as np

from scenes import Scene
from statics import Statics, null_space, rank_of


def body_xml(scene: Scene, joint: str) -> str:
    centre = " ".join(repr(float(x)) for x in scene.centre)
    # In the plane sizes are length, depth, height: the height lies along y.
    x, y, z = (float(s) / 2 for s in (scene.size if not scene.planar else
                                      (scene.size[0], scene.size[2], scene.size[1])))
    gravity = "0 -9.80665 0" if scene.planar else "0 0 -9.80665"
    return f"""<mujoco><compiler inertiafromgeom="true"/><option gravity="{gravity}"/>
      <worldbody><body name="body" pos="0 0 0">{joint}
      <geom type="box" pos="{centre}" size="{x} {y} {z}" mass="{float(scene.mass)}" contype="0" conaffinity="0"/>
      </body></worldbody></mujoco>"""


def mass_matrix(statics: Statics, length: float) -> np.ndarray:
    """Mass matrix for (velocity at the reference point; length times spin), from a free body in MuJoCo."""
    model = mujoco.MjModel.from_xml_string(body_xml(statics.scene, "<freejoint/>"))
    data = mujoco.MjData(model)
    mujoco.mj_forward(model, data)
    full = np.zeros((6, 6))
    # Rows of a free joint: velocity of the body's frame, which starts at the origin, then its spin.
    try:
        mujoco.mj_fullM(model, data, full)
    except TypeError:
        mujoco.mj_fullM(model, full, data.qM)
    reference = np.array([float(x) for x in statics.reference])
    change = np.eye(6)
    # v at the origin = v at the reference − w × reference
    change[:3, 3:] = -np.cross(np.eye(3), reference).T
    scale = np.diag([1, 1, 1, 1 / length, 1 / length, 1 / length])
    whole = scale.T @ change.T @ full @ change @ scale
    return whole[np.ix_(statics.rows, statics.rows)]


def accelerations(statics: Statics, matrix: np.ndarray, one_way: list[int], grips: dict[int, list[int]], length: float):
    """First accelerations (v; length w): Gauss's principle with one-way supports, by trying every set that stays.

    `grips` has, for the push of each rough contact, the reactions along its surface: they act while the push stays, and
    not where the contact opens. Friction without limit may leave several answers; without it there are several only by
    rounding.
    """
    mass, load = mass_matrix(statics, length), statics.wrench(length)
    size = np.abs(load).max(initial=1e-300)
    along = {j for grip in grips.values() for j in grip}
    two_way = [j for j in range(matrix.shape[1]) if j not in one_way and j not in along]
    found = []
    for count in range(len(one_way) + 1):
        for staying in combinations(one_way, count):
            gripping = [j for push in staying for j in grips.get(push, [])]
            held = matrix[:, [*two_way, *gripping, *staying]]
            free = null_space(held.T, rank_of(held)) if held.shape[1] else np.eye(statics.motions)
            a = free @ np.linalg.solve(free.T @ mass @ free, free.T @ load) if free.shape[1] else np.zeros(len(load))
            rates = matrix.T @ a
            if any(rates[j] < -1e-9 * size for j in one_way):
                continue
            first = len(two_way) + len(gripping)
            if pushes(held, mass @ a - load, [first + k for k in range(count)], size):
                found.append(a)
    distinct = []
    for a in found:
        if all(np.abs(a - other).max() > 1e-6 * size for other in distinct):
            distinct.append(a)
    return distinct


def pushes(held: np.ndarray, needed: np.ndarray, one_way: list[int], size: float) -> bool:
    from scipy.optimize import linprog

    if held.shape[1] == 0:
        return bool(np.abs(needed).max(initial=0.0) <= 1e-8 * size)
    bounds = [(0, None) if j in one_way else (None, None) for j in range(held.shape[1])]
    rows = len(needed)
    block = np.block([[held, -np.ones((rows, 1))], [-held, -np.ones((rows, 1))]])
    cost = np.zeros(held.shape[1] + 1)
    cost[-1] = 1
    target = needed / size
    answer = linprog(cost, A_ub=block, b_ub=np.concatenate([target, -target]), bounds=[*bounds, (0, None)], method="highs")
    return answer.status == 0 and answer.fun <= 1e-7


def hinge_acceleration(statics: Statics, point: list[float], axis: list[float]) -> float:
    """Angular acceleration about a fixed line, rad/s²: the whole body on one hinge in MuJoCo."""
    where = " ".join(repr(float(x)) for x in point)
    about = " ".join(repr(float(x)) for x in axis)
    joint = f'<joint type="hinge" pos="{where}" axis="{about}"/>'
    model = mujoco.MjModel.from_xml_string(body_xml(statics.scene, joint))
    data = mujoco.MjData(model)
    for load in statics.scene.loads:
        amount = [float(x) for x in load.amount]
        body = model.body("body").id
        force, torque = (np.zeros(3), np.array([0, 0, amount[2]]) if statics.scene.planar else np.array(amount))
        at = np.zeros(3)
        if load.kind == "Force":
            force, torque, at = np.array(amount), np.zeros(3), np.array([float(x) for x in load.at])
        applied = np.zeros(model.nv)
        mujoco.mj_kinematics(model, data)
        mujoco.mj_comPos(model, data)
        mujoco.mj_applyFT(model, data, force, torque, at, body, applied)
        data.qfrc_applied[:] += applied
    mujoco.mj_forward(model, data)
    return float(data.qacc[0])


class Follower:
    """A body on links, ball joints and pins alone, followed by tiny steps along the null vector with Newton's correction."""

    def __init__(self, statics: Statics, length: float):
        self.statics, self.length = statics, length
        self.reference = np.array([float(x) for x in statics.reference])
        self.equations = []
        for support in statics.scene.supports:
            at = np.array([float(x) for x in support.at])
            if support.kind == "Link":
                ground = np.array([float(x) for x in support.other])
                self.equations.append(("distance", at, ground))
            else:
                units = np.eye(3)[: 2 if statics.scene.planar else 3]
                self.equations.extend(("level", at, unit) for unit in units)

    @staticmethod
    def covers(scene: Scene) -> bool:
        return bool(scene.supports) and all(s.kind in ("Link", "BallJoint", "Pin") for s in scene.supports)

    def residuals(self, rotation: np.ndarray, shift: np.ndarray) -> np.ndarray:
        found = []
        for kind, at, other in self.equations:
            now = self.moved(rotation, shift, at)
            if kind == "distance":
                rest = np.linalg.norm(other - at)
                found.append((rest * rest - (other - now) @ (other - now)) / (2 * rest * self.length))
            else:
                found.append((now - at) @ other / self.length)
        return np.array(found)

    def moved(self, rotation, shift, at):
        return rotation @ (at - self.reference) + self.reference + shift

    def jacobian(self, rotation, shift) -> np.ndarray:
        rows = []
        for kind, at, other in self.equations:
            now = self.moved(rotation, shift, at)
            direction = (other - now) / np.linalg.norm(other - at) if kind == "distance" else other
            arm = (now - self.reference - shift) / self.length
            rows.append(np.concatenate([direction, np.cross(arm, direction)])[self.statics.rows])
        return np.array(rows)

    def project(self, rotation, shift, rank):
        for _ in range(30):
            off = self.residuals(rotation, shift)
            if np.abs(off).max() < 1e-13:
                return rotation, shift, True
            left, values, right = np.linalg.svd(self.jacobian(rotation, shift), full_matrices=False)
            # At least the rank at the start: a motion that gains equations as it goes on is none.
            keep = values > 1e-7 * values[0]
            step = right.T[:, keep] @ ((left.T @ -off)[keep] / values[keep])
            rotation, shift = self.step(rotation, shift, step)
        return rotation, shift, np.abs(self.residuals(rotation, shift)).max() < 1e-11

    def step(self, rotation, shift, motion):
        six = np.zeros(6)
        six[self.statics.rows] = motion
        turn = exponential(six[3:])
        return turn @ rotation, shift + six[:3] * self.length

    def way(self, rotation, shift, next_rotation, next_shift) -> np.ndarray:
        """The small motion (v; length w) from one place to the next, to first order."""
        turn = next_rotation @ rotation.T
        spin = np.array([turn[2, 1] - turn[1, 2], turn[0, 2] - turn[2, 0], turn[1, 0] - turn[0, 1]]) / 2
        return np.concatenate([(next_shift - shift) / self.length, spin])[self.statics.rows]

    def goes_on(self, motion: np.ndarray, rank: int, far: float = 0.1) -> bool | None:
        """Whether the body can be moved so far along a motion, all equations met; None where that is unclear.

        Only for one freedom, so that there is one way to go.
        """
        rotation, shift = np.eye(3), np.zeros(3)
        motion = motion / np.linalg.norm(motion)
        for _ in range(200):
            start = rotation, shift
            rotation, shift = self.step(rotation, shift, motion * (far / 200))
            before = np.abs(self.residuals(rotation, shift)).max()
            rotation, shift, met = self.project(rotation, shift, rank)
            if not met:
                return False if before > 1e-10 else None
            # Where the only place near that meets the equations is the last one, the correction leads back to it.
            if self.way(*start, rotation, shift) @ motion < 0.5 * far / 200:
                return False
            values, right = np.linalg.svd(self.jacobian(rotation, shift))[1:]
            now = int((values > 1e-6 * values[0]).sum())
            if now > rank:
                return False
            if now < rank:
                return None
            onward = right[now:].T @ (right[now:] @ motion)
            if np.linalg.norm(onward) < 0.9:
                return None
            motion = onward / np.linalg.norm(onward)
        return True


def exponential(vector: np.ndarray) -> np.ndarray:
    angle = np.linalg.norm(vector)
    x, y, z = vector
    skew = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    if angle < 1e-12:
        return np.eye(3) + skew
    return np.eye(3) + np.sin(angle) / angle * skew + (1 - np.cos(angle)) / angle**2 * skew @ skew
