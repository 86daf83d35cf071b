"""Bodies that turn about a fixed axis, with one more support aimed at that axis, simulated with unilateral contact.

Two ball joints, or a pin in the plane, leave one rotation; a roller, cable or link whose line meets the axis does no work
in it, so the first order says that the body can turn. Whether it does depends on which way the support acts. Here MuJoCo
finds out: the body on a hinge, pushed gently one way and the other, on a frictionless contact or a tendon that
only pulls.
"""

from __future__ import annotations

import random
from fractions import Fraction

import mujoco
import numpy as np

from scenes import Scene, Support, minus, scale

# A push of this torque, N m, for so long, s, turns a body of about 1 kg m² far if nothing is in its way.
TORQUE, SECONDS, STEP = 0.1, 4.0, 0.001
# Less is the give of the simulated contact, more is free, rad; in between nothing is said.
BLOCKED, FREE = 0.06, 0.25
BALL = 0.01


def scene(maker: random.Random, index: int) -> Scene:
    planar = maker.random() < 0.5
    zero = Fraction(0)
    number = lambda: Fraction(maker.randint(-4, 4), 2)
    point = lambda: (number(), number(), zero if planar else number())
    a = point()
    joints = [Support("Pin" if planar else "BallJoint", "A", a)]
    towards = (zero, zero, Fraction(1))
    if not planar:
        while not any(towards := minus(b := point(), a)):
            pass
        joints.append(Support("BallJoint", "B", b))
    along_axis = zero if planar else Fraction(maker.randint(-2, 3))
    on_axis = tuple(x + along_axis * d for x, d in zip(a, towards))
    while True:
        at = point()
        # Off the axis, and not so near that a sphere's radius counts.
        arm = np.cross([float(x) for x in minus(at, a)], [float(x) for x in towards])
        if np.linalg.norm(arm) / np.linalg.norm([float(x) for x in towards]) > 0.3:
            break
    kind = maker.choice(["Roller", "SmoothContact", "Cable", "Cable", "Link"])
    inwards = minus(on_axis, at)
    along = scale(inwards, Fraction(maker.choice([1, -1])))
    # The ground end beyond the body point, between it and the axis, or beyond the axis.
    part = maker.choice([Fraction(-1), Fraction(-1, 2), Fraction(1, 2), Fraction(3, 2), Fraction(2)])
    support = Support(kind, "C", at, along=along, other=tuple(x + part * d for x, d in zip(at, inwards)))
    size = (Fraction(1),) * 3
    return Scene(f"contact-{index:04}", planar, (zero,) * 3, size, [*joints, support], [], None)


def axis_of(scene: Scene) -> tuple[np.ndarray, np.ndarray]:
    a = np.array([float(x) for x in scene.supports[0].at])
    if scene.planar:
        return a, np.array([0.0, 0.0, 1.0])
    along = np.array([float(x) for x in scene.supports[1].at]) - a
    return a, along / np.linalg.norm(along)


def simulate(scene: Scene, sense: int) -> bool | None:
    """Whether the body turns freely in a sense about its axis; None where the simulation does not tell."""
    a, axis = axis_of(scene)
    support = scene.supports[-1]
    at = np.array([float(x) for x in support.at])
    words = lambda v: " ".join(repr(float(x)) for x in v)
    if support.kind in ("Cable", "Link"):
        ground = np.array([float(x) for x in support.other])
        length = np.linalg.norm(ground - at)
        low = length if support.kind == "Link" else 0.0
        extra = f"""<tendon><spatial limited="true" range="{low} {length}" solreflimit="0.004 1"
            solimplimit="0.99 0.999 0.001"><site site="ground"/><site site="end"/></spatial></tendon>"""
        world = f'<site name="ground" pos="{words(ground)}"/>'
        own = f'<site name="end" pos="{words(at)}"/>'
        if support.kind == "Link":
            extra = f"""<tendon><spatial name="rod"><site site="ground"/><site site="end"/></spatial></tendon>
              <equality><tendon tendon1="rod" solref="0.004 1" solimp="0.99 0.999 0.001"/></equality>"""
    else:
        normal = np.array([float(x) for x in support.along])
        normal /= np.linalg.norm(normal)
        world = f'<geom type="plane" size="9 9 1" pos="{words(at)}" zaxis="{words(normal)}" condim="1" solref="0.004 1" solimp="0.99 0.999 0.001"/>'
        own = f'<geom type="sphere" size="{BALL}" pos="{words(at + BALL * normal)}" mass="0" condim="1" solref="0.004 1" solimp="0.99 0.999 0.001"/>'
        extra = ""
    model = mujoco.MjModel.from_xml_string(f"""<mujoco><option gravity="0 0 0" timestep="{STEP}"/>
      <worldbody>{world}<body>
        <inertial pos="{words(a)}" mass="1" diaginertia="1 1 1"/>
        <joint type="hinge" pos="{words(a)}" axis="{words(axis)}"/>{own}</body></worldbody>{extra}</mujoco>""")
    data = mujoco.MjData(model)
    data.qfrc_applied[0] = sense * TORQUE
    farthest = 0.0
    for _ in range(int(SECONDS / STEP)):
        mujoco.mj_step(model, data)
        farthest = max(farthest, sense * data.qpos[0])
        if farthest > FREE:
            return True
    return False if farthest < BLOCKED else None


def faults(scene: Scene, report: dict) -> tuple[int, list[str]]:
    """How many senses were compared, and what does not match."""
    if report["freedom"] != 1:
        return 0, [f"freedom {report['freedom']}, not 1"]
    motion = report["free_motions"][0]
    mobility = motion["mobility"]
    along = np.dot(motion["direction"], axis_of(scene)[1])
    told = mobility["senses"] or [False, False]
    compared, found = 0, []
    for sense in (1, -1):
        free = simulate(scene, sense)
        if free is None:
            continue
        compared += 1
        ours = told[1] if sense * along > 0 else told[0]
        if ours != free:
            found.append(f"sense {sense}: simulated {'free' if free else 'blocked'}, told {mobility['words']}")
    return compared, found
