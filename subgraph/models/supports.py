"""Forces of floor, box and bar on a body held still, by planar moment balance."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from subgraph.errors import AskError
from subgraph.models.body import Body
from subgraph.models.posture import Contact, Posture
from subgraph.models.skeleton import LoadAt, Point, masses, segment_positions

__all__ = ["G_M_PER_S2", "LINK", "HandForce", "SupportForce", "support_forces"]

G_M_PER_S2 = 9.81
HandForce = Literal["arm", "vertical"]
# Link of the chain that a contact bears on, numbered as in `skeleton.Mass`.
LINK: dict[Contact, int] = {"hang": 0, "hands": 0, "elbows": 0, "trunk": 1, "seat": 2, "knees": 4, "feet": 4}


@dataclass(frozen=True, slots=True)
class SupportForce:
    """Force of the ground, bar or box on the body at one contact, both sides together.

    Parameters
    ----------
    contact : str
        Which contact.
    at : Point
        Where the force acts [m].
    horizontal, vertical : float
        Components [fraction of body weight]; vertical is positive upwards.
    """

    contact: Contact
    at: Point
    horizontal: float
    vertical: float


def support_forces(
    body: Body,
    posture: Posture,
    *,
    hand_force: HandForce = "arm",
    load_kg: float = 0.0,
    load_at: LoadAt = "shoulders",
) -> tuple[SupportForce, ...]:
    """Forces at the contacts of a body held still.

    Parameters
    ----------
    body : Body
        Who.
    posture : Posture
        How held.
    hand_force : {'arm', 'vertical'}
        Direction of the force at hands or elbows where another contact carries too: towards the shoulder (no moment
        at the shoulder; friction takes the horizontal part), or straight up.
    load_kg : float
        External load [kg].
    load_at : {'hands', 'shoulders'}
        Where the load acts.

    Returns
    -------
    tuple of SupportForce
        One force per carrying contact [fraction of body weight], from the hands to the feet.

    Raises
    ------
    AskError
        If the hand force would pass through the other contact, so that no balance is possible.

    Notes
    -----
    A single contact carries everything at the point below the centre of mass. Shanks and feet that lie on the floor
    behind the knees carry themselves.

    Examples
    --------
    >>> [force.vertical for force in support_forces(Body.mean("male"), Posture(trunk_deg=90))]
    [1.0]
    """
    if hand_force not in ("arm", "vertical"):
        raise AskError(f"hand_force is {hand_force!r}", mend="use one of arm, vertical")
    frame = segment_positions(body, posture)
    parts = masses(body, posture, load_kg=load_kg, load_at=load_at)
    weight = sum(p.share for p in parts)
    supports = posture.supports
    if len(supports) == 1:
        x = sum(p.share * p.x for p in parts) / weight
        return (SupportForce(supports[0], Point(x, frame.contact(supports[0]).y), 0.0, weight),)
    upper, lower = supports
    hand, pivot = frame.contact(upper), frame.contact(lower)
    turning = sum(p.share * (p.x - pivot.x) for p in parts if not (lower == "knees" and p.link == 4))
    along = hand_force == "arm" and LINK[upper] == 0
    dx, dy = (frame.shoulder.x - hand.x, frame.shoulder.y - hand.y) if along else (0.0, 1.0)
    lever = (hand.x - pivot.x) * dy - (hand.y - pivot.y) * dx
    if abs(lever) < 1e-6 * math.hypot(dx, dy) or math.hypot(dx, dy) < 1e-9:
        raise AskError(
            f"the force at the {upper} passes through the {lower}", mend="change the posture or its contacts"
        )
    size = turning / lever
    return (
        SupportForce(upper, hand, size * dx, size * dy),
        SupportForce(lower, pivot, -size * dx, weight - size * dy),
    )
