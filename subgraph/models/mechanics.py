"""What gravity asks of a body in a posture: share on the hands, work of a rep, moments at the joints.

Planar statics of rigid segments; people, postures and places come from `body`, `posture` and `skeleton`. All results
are per kilogram of body mass or shares of it, so that body mass cancels unless there is an external load. Held still:
the force at the turn of a quick rep is higher (measured peaks of 0.80 to 0.98 of body weight in flat push-ups).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from subgraph.models.body import Body
from subgraph.models.posture import Posture, posture_from_mapping
from subgraph.models.skeleton import (
    LoadAt,
    Mass,
    Point,
    centre_of_mass,
    masses,
    segment_positions,
)
from subgraph.models.supports import G_M_PER_S2, LINK, HandForce, SupportForce, support_forces

__all__ = [
    "COM_HEIGHT_SIGMA",
    "G_M_PER_S2",
    "HAND_SHARE_ERRORS",
    "HAND_SHARE_SIGMA",
    "STRAP_FORCE_SIGMA",
    "WORK_LOG_SIGMA",
    "Body",
    "HandForce",
    "JointMoments",
    "Posture",
    "SupportForce",
    "aim_arms",
    "centre_of_mass",
    "com_rise_m",
    "force_on_hands",
    "joint_moments",
    "posture_from_mapping",
    "segment_positions",
    "share_on_hands",
    "support_forces",
    "work_per_rep_j_per_kg",
]


# Root-mean-square misses against measurement, the sigmas of the models; tests/external recomputes each of them.
HAND_SHARE_SIGMA = 0.0505  # 14 force-plate rows [fraction of body weight]; 0.029 without the knee versions
STRAP_FORCE_SIGMA = 0.0800  # 4 angles at 3 anchor heights [fraction of body weight]
COM_HEIGHT_SIGMA = 0.0242  # 2 balance-board values and 5 bodies of an inertia library [fraction of stature]
WORK_LOG_SIGMA = 0.0692  # chair rise and squat against the field formula [log ratio]

# Mean miss of the share on the hands, model less measured [fraction of body weight].
HAND_SHARE_ERRORS: dict[str, float] = {
    "hands-raised-60": -0.036,
    "hands-raised-30": -0.027,
    "flat": -0.026,
    "feet-raised-30": 0.003,
    "feet-raised-60": -0.030,
    "knees": -0.073,
}


@dataclass(frozen=True, slots=True)
class JointMoments:
    """Moments of gravity that the muscles hold, left and right together [N.m per kg body mass].

    Parameters
    ----------
    shoulder_nm_per_kg : float
        Positive where the arms must be raised (flexors hold).
    lumbar_nm_per_kg, hip_nm_per_kg, knee_nm_per_kg : float
        Positive where extensors hold: back, hip extensors, quadriceps.
    """

    shoulder_nm_per_kg: float
    lumbar_nm_per_kg: float
    hip_nm_per_kg: float
    knee_nm_per_kg: float


def com_rise_m(body: Body, start: Posture, end: Posture) -> float:
    """Rise of the body's centre of mass from one posture to another.

    Parameters
    ----------
    body : Body
        Who.
    start, end : Posture
        Two positions of one movement.

    Returns
    -------
    float
        Rise [m]; negative for a drop.

    Examples
    --------
    >>> box = Posture(trunk_deg=90, foot_height_m=0.508)
    >>> com_rise_m(Body.mean("male"), Posture(trunk_deg=90), box)  # a step-up rises by the box
    0.508
    """
    return centre_of_mass(body, end).y - centre_of_mass(body, start).y


def work_per_rep_j_per_kg(
    body: Body, start: Posture, end: Posture, *, load_kg: float = 0.0, load_at: LoadAt = "hands"
) -> float:
    """Work against gravity of one rep, per kilogram of body mass.

    Parameters
    ----------
    body : Body
        Who.
    start, end : Posture
        Lowest and highest position, in either order.
    load_kg : float
        External load [kg], moving with hands or shoulders.
    load_at : {'hands', 'shoulders'}
        Where the load acts.

    Returns
    -------
    float
        Work of the lifting half [J/kg], never negative.

    Notes
    -----
    Potential energy between two postures; speed, lowering, swing and the muscles' efficiency are ignored.
    Against the field formula of the chair rise (checked on force plates) the miss is 7 % (`WORK_LOG_SIGMA`).

    Examples
    --------
    >>> box = Posture(trunk_deg=90, foot_height_m=0.508)
    >>> work_per_rep_j_per_kg(Body.mean("male"), Posture(trunk_deg=90), box)  # 9.81 x 0.508 = 4.98
    4.98

    References
    ----------
    de Leva (1996), table 4 [deleva_1996]. Step-up work is arithmetic [planar_here].
    """
    low, high = (masses(body, p, load_kg=load_kg, load_at=load_at) for p in (start, end))
    rise = sum(b.share * b.y - a.share * a.y for a, b in zip(low, high, strict=True))
    return G_M_PER_S2 * abs(rise)


def share_on_hands(
    body: Body,
    posture: Posture,
    *,
    hand_force: HandForce = "arm",
    load_kg: float = 0.0,
    load_at: LoadAt = "shoulders",
) -> float:
    """Vertical force on the hands (or forearms) as a share of body weight.

    Parameters
    ----------
    body : Body
        Who.
    posture : Posture
        How held.
    hand_force : {'arm', 'vertical'}
        Direction of the hand force, see `support_forces`.
    load_kg : float
        External load [kg].
    load_at : {'hands', 'shoulders'}
        Where the load acts.

    Returns
    -------
    float
        Share [fraction of body weight]; 0 where the hands don't carry.

    Notes
    -----
    Give push-ups a straight body with the arms square to the trunk (`shoulder_deg=90`); arms upright under the
    shoulders would carry 0.70 at any height of hands or feet, against a measured 0.41 with the hands on 61 cm. Mean
    miss by version in `HAND_SHARE_ERRORS`, root mean square 0.05 (`HAND_SHARE_SIGMA`); the knee version comes out 0.07
    low, because the hands are set nearer below the shoulders there. Peaks of quick reps are up to half as high again.

    Examples
    --------
    Flat push-up held high; published 0.64 (highest in the rep), 0.66 to 0.69 (held still).

    >>> flat = Posture(20, ankle_deg=0, shoulder_deg=90, contacts=("hands", "feet"), hand_height_m=0)
    >>> share_on_hands(Body.mean("male"), flat)
    0.64

    References
    ----------
    Ebben et al. (2011) [ebben_2011]; Suprak et al. (2011) [suprak_2011]; Gouvali and Boudolos (2005) [gouvali_2005];
    Mier et al. (2014) [mier_2014].
    """
    forces = support_forces(body, posture, hand_force=hand_force, load_kg=load_kg, load_at=load_at)
    return sum(f.vertical for f in forces if LINK[f.contact] == 0)


def force_on_hands(
    body: Body,
    posture: Posture,
    *,
    hand_force: HandForce = "arm",
    load_kg: float = 0.0,
    load_at: LoadAt = "shoulders",
) -> float:
    """Whole force on the hands as a share of body weight: what the arms feel, and what a strap gauge reads.

    Parameters
    ----------
    body : Body
        Who.
    posture : Posture
        How held.
    hand_force : {'arm', 'vertical'}
        Direction of the hand force, see `support_forces`.
    load_kg : float
        External load [kg].
    load_at : {'hands', 'shoulders'}
        Where the load acts.

    Returns
    -------
    float
        Force [fraction of body weight], never negative; 0 where the hands don't carry.

    Notes
    -----
    Leaning back in straps the root-mean-square miss is 0.08 (`STRAP_FORCE_SIGMA`): none on average at 30 degrees
    from upright, 0.05 low at 45, 0.10 to 0.11 low at 60 and 75, where hips sag and feet slide in practice.

    Examples
    --------
    Leaning back in straps 30 degrees from upright; published 0.374, here with the anchor at 2.4 m 0.37.

    >>> lean = aim_arms(Body.mean("male"), Posture(120, ankle_deg=0, contacts=("hang", "feet")), anchor_height_m=2.4)
    >>> force_on_hands(Body.mean("male"), lean)
    0.37

    References
    ----------
    Melrose and Dawes (2015) [melrose_dawes_2015].
    """
    forces = support_forces(body, posture, hand_force=hand_force, load_kg=load_kg, load_at=load_at)
    return sum(math.hypot(f.horizontal, f.vertical) for f in forces if LINK[f.contact] == 0)


def aim_arms(body: Body, posture: Posture, *, anchor_height_m: float, anchor_forward_m: float = 0.0) -> Posture:
    """Turn the arms at the shoulder so that a straight arm points at an anchor, as in straps.

    Parameters
    ----------
    body : Body
        Who.
    posture : Posture
        Posture whose shoulder angle is to be set.
    anchor_height_m : float
        Height of the anchor over the floor [m].
    anchor_forward_m : float
        Place of the anchor before the lower contact, on the side that an upright person faces [m].

    Returns
    -------
    Posture
        The same with `shoulder_deg` set and the elbow straight.

    Raises
    ------
    RangeError
        If no shoulder angle within its range points there.
    """
    shoulder = segment_positions(body, posture).shoulder
    towards = math.degrees(math.atan2(anchor_height_m - shoulder.y, anchor_forward_m - shoulder.x))
    raised = (towards - posture.trunk_deg + 180 + 90) % 360 - 90
    return replace(posture, shoulder_deg=raised, elbow_deg=0.0, hand_height_m=None)


def joint_moments(
    body: Body,
    posture: Posture,
    *,
    hand_force: HandForce = "arm",
    load_kg: float = 0.0,
    load_at: LoadAt = "hands",
) -> JointMoments:
    """Moments of gravity, load and contact forces that the muscles hold at four joints.

    Parameters
    ----------
    body : Body
        Who.
    posture : Posture
        How held.
    hand_force : {'arm', 'vertical'}
        Direction of the hand force, see `support_forces`; `arm` makes the shoulder moment of a press nearly zero by
        definition, `vertical` is the upper bound.
    load_kg : float
        External load [kg].
    load_at : {'hands', 'shoulders'}
        Where the load acts.

    Returns
    -------
    JointMoments
        Moments of both sides together [N.m per kg body mass].

    Notes
    -----
    Each joint is cut and the side without a contact is weighed; where both touch, the contact forces are counted, and
    where neither does (sitting balanced) the larger moment stands. The lumbar cut is at navel level; while trunk and
    seat both lie, the spine between them rests and carries what the hips do. Held still: no muscle co-contraction, no
    acceleration, so a moment ranks demands and is no joint force.

    Examples
    --------
    Sit-up with the trunk level and arms crossed, hip moment; published 2.13 for a man (sign: flexors hold).

    >>> start = Posture(180, shoulder_deg=30, elbow_deg=120, contacts=("seat",))
    >>> joint_moments(Body.mean("male"), start).hip_nm_per_kg
    -2.1

    References
    ----------
    de Leva (1996), table 4 [deleva_1996]; worked values [planar_here].
    """
    frame = segment_positions(body, posture)
    parts = masses(body, posture, load_kg=load_kg, load_at=load_at)
    forces = support_forces(body, posture, hand_force=hand_force, load_kg=load_kg, load_at=load_at)
    shoulder = _flexing(frame.shoulder, 1, parts, forces)
    hip = _flexing(frame.hip, 3, parts, forces)
    lying = posture.supports == ("trunk", "seat")
    lumbar = hip if lying else _flexing(frame.lumbar, 2, parts, forces)
    return JointMoments(shoulder, lumbar, hip, -_flexing(frame.knee, 4, parts, forces))


def _flexing(joint: Point, cut: int, parts: tuple[Mass, ...], forces: tuple[SupportForce, ...]) -> float:
    """Moment [N.m/kg] that folds the body forwards at a joint, from the links before `cut` or those after it."""
    at_joint = [f for f in forces if f.contact == "seat" and cut == 3]
    above = [f for f in forces if LINK[f.contact] < cut and f not in at_joint]
    below = [f for f in forces if LINK[f.contact] >= cut]

    def turn(side: list[Mass], held: list[SupportForce]) -> float:
        pull = -sum(p.share * (p.x - joint.x) for p in side)
        push = sum((f.at.x - joint.x) * f.vertical - (f.at.y - joint.y) * f.horizontal for f in held)
        return G_M_PER_S2 * (pull + push)

    upper = -turn([p for p in parts if p.link < cut], above)
    lower = turn([p for p in parts if p.link >= cut], below)
    if not above and not below:
        return max(upper, lower, key=abs)
    return lower if above and not below else upper
