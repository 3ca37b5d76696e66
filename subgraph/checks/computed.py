"""Quantities of a posture that a demand's written grades speak of, computed by the mechanics."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from subgraph.library.records import Movement, Postures
from subgraph.models.body import Body
from subgraph.models.mechanics import (
    Posture,
    force_on_hands,
    joint_moments,
    posture_from_mapping,
    segment_positions,
    share_on_hands,
)
from subgraph.models.skeleton import LoadAt

__all__ = ["QUANTITIES", "quantity"]

_BODIES = (Body.mean("male"), Body.mean("female"))
_IN_FRONT_DEG = (0.0, 135.0)  # raising of the arms that counts as before the body; beyond it, overhead
_BEHIND_DEG = -20.0  # the elbow is clearly behind the trunk
_STRAIGHT_DEG = 20.0  # a leg that bends less counts as straight


@dataclass(frozen=True, slots=True)
class _Held:
    """One body in one position of a movement, with the movement's usual load."""

    body: Body
    posture: Posture
    other: Posture
    load_kg: float
    load_at: LoadAt

    @property
    def load_share(self) -> float:
        return self.load_kg / self.body.mass_kg

    def arms_carry(self, contact: str) -> bool:
        return contact in self.posture.supports

    @property
    def hand_share(self) -> float:
        return share_on_hands(self.body, self.posture, load_kg=self.load_kg, load_at=self.load_at)

    @property
    def upright(self) -> bool:
        """The trunk is within 45 degrees of upright."""
        return abs(self.posture.trunk_deg - 90) <= 45

    @property
    def stands(self) -> bool:
        """Body weight is on the feet here, or comes on them at the next moment (rising from a seat)."""
        return "feet" in self.posture.supports or ("seat" in self.posture.supports and "feet" in self.other.supports)


def _push_share(h: _Held) -> float | None:
    """Load on the hands with the arms before the body; lying, the load in the hands [body masses]."""
    if h.arms_carry("hands") and all(_before(p.shoulder_deg) for p in (h.posture, h.other)):
        return h.hand_share
    lies = "trunk" in h.posture.supports and h.posture.trunk_deg > 90
    return h.load_share if lies and h.load_kg and h.load_at == "hands" else None


def _before(shoulder_deg: float) -> bool:
    return _IN_FRONT_DEG[0] <= shoulder_deg <= _IN_FRONT_DEG[1]


def _palm_share(h: _Held) -> float | None:
    """Body weight on the palms [body weights]."""
    return h.hand_share if h.arms_carry("hands") else None


def _hang_share(h: _Held) -> float | None:
    """Body weight that hangs from raised arms [body weights]."""
    raised = h.posture.shoulder_deg > _IN_FRONT_DEG[1]
    return h.hand_share if h.arms_carry("hang") and raised else None


def _pull_share(h: _Held) -> float | None:
    """Force along the arms where they bend under it [body weights]."""
    bends = abs(h.posture.elbow_deg - h.other.elbow_deg) > 30
    if not (h.arms_carry("hang") and bends):
        return None
    return force_on_hands(h.body, h.posture, load_kg=h.load_kg, load_at=h.load_at)


def _dip_share(h: _Held) -> float | None:
    """Body weight on the hands with the elbows behind the trunk [body weights]."""
    return h.hand_share if h.arms_carry("hands") and h.posture.shoulder_deg < _BEHIND_DEG else None


def _overhead_share(h: _Held) -> float | None:
    """Load held above the shoulders, or body weight on arms overhead [body masses]."""
    if h.arms_carry("hands"):
        return h.hand_share if h.posture.shoulder_deg > _IN_FRONT_DEG[1] else None
    place = segment_positions(h.body, h.posture)
    above = place.elbow.y > place.shoulder.y
    return h.load_share if above and h.upright and h.load_kg and h.load_at == "hands" else None


def _carried_share(h: _Held) -> float | None:
    """External load that the spine carries [body masses]."""
    return h.load_share if h.load_kg and h.stands and h.upright else None


def _knee_angle(h: _Held) -> float | None:
    """Knee bend with body weight on the feet [deg]."""
    return _bend(h, h.posture.knee_deg, h.other.knee_deg)


def _hip_angle(h: _Held) -> float | None:
    """Hip bend between thigh and the straight line of the trunk [deg]."""
    return _bend(h, h.posture.hip_deg, h.other.hip_deg)


def _bend(h: _Held, here_deg: float, there_deg: float) -> float | None:
    """A bend on the feet; None where both ends are straight, for then the posture left the bend out."""
    legs = h.posture.supports[0] in ("feet", "seat") and h.stands
    return here_deg if legs and max(here_deg, there_deg) > _STRAIGHT_DEG else None


def _lumbar_moment(h: _Held) -> float | None:
    """Moment that the back extensors hold, on the feet [N.m per kg]."""
    if h.posture.supports != ("feet",):
        return None
    return joint_moments(h.body, h.posture, load_kg=h.load_kg, load_at=h.load_at).lumbar_nm_per_kg


def _head_down(h: _Held) -> float | None:
    """How far the trunk points down, head lowest [deg below level]."""
    rise = segment_positions(h.body, h.posture)
    angle = rise.trunk_deg
    below = -angle if angle >= -90 else 180 + angle
    return max(0.0, below)


def _foot_height(h: _Held) -> float | None:
    """Height of what the feet stand on [m]."""
    return h.posture.foot_height_m if h.posture.supports == ("feet",) else None


QUANTITIES: dict[str, Callable[[_Held], float | None]] = {
    "push-share": _push_share,
    "palm-share": _palm_share,
    "hang-share": _hang_share,
    "pull-share": _pull_share,
    "dip-share": _dip_share,
    "overhead-share": _overhead_share,
    "carried-share": _carried_share,
    "knee-angle": _knee_angle,
    "hip-angle": _hip_angle,
    "lumbar-moment": _lumbar_moment,
    "head-down": _head_down,
    "foot-height": _foot_height,
}


def quantity(name: str, movement: Movement, postures: Postures, *, load_over: float = 0.0) -> float | None:
    """Highest value over both ends of a movement, mean of a man and a woman of mean build with the usual load.

    Parameters
    ----------
    name : str
        One of `QUANTITIES`.
    movement : Movement
        Gives the load.
    postures : Postures
        Gives both ends.
    load_over : float
        Count only under a load above this share [body masses].

    Returns
    -------
    float or None
        Shares [body masses], angles [deg], moments [N.m/kg] or heights [m]; None where the quantity says nothing
        of these postures.
    """
    ends = [posture_from_mapping(dict(m)) for m in (postures.start, postures.end)]
    means = []
    for posture, other in (ends, ends[::-1]):
        each = []
        for i, body in enumerate(_BODIES):
            load = movement.load
            kg = load.kg[i] * (2 if load.per_hand else 1) if load and postures.load_at else 0.0
            held = _Held(body, posture, other, kg, postures.load_at or "hands")
            each.append(QUANTITIES[name](held) if not load_over or held.load_share > load_over else None)
        found = [value for value in each if value is not None]
        if found:
            means.append(sum(found) / len(found))
    return max(means, default=None)
