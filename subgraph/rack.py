"""What is there today to be lifted, and what it can be made to weigh."""

from __future__ import annotations

from msgspec import Struct

from subgraph.library.records import Movement, equipment_in
from subgraph.quantities import round_load
from subgraph.today import Filter


def at_hand(filter_: Filter, movement: Movement) -> list[str]:
    """What a movement would be done with today: of each need, the first choice that is there."""
    return [
        need if isinstance(need, str) else next((c for c in need if filter_.has(c)), need[0]) for need in movement.uses
    ]


class Rack(Struct, frozen=True):
    """What an implement can be made to weigh today.

    Parameters
    ----------
    implement : str
        Its id.
    sizes_kg : tuple of float
        Fixed sizes [kg], ascending; empty where plates make any multiple of `step_kg`.
    step_kg, least_kg : float or None
        Smallest change, and the least that it can weigh [kg].
    told : bool
        Whether the sizes are those that were told: then the nearest is taken, above or below.
    """

    implement: str
    sizes_kg: tuple[float, ...] = ()
    step_kg: float | None = None
    least_kg: float | None = None
    told: bool = False

    def nearest(self, wanted_kg: float) -> float:
        """The load that a coach would take for a wanted one [kg]."""
        if self.told:
            return min(self.sizes_kg, key=lambda size: (abs(size - wanted_kg), size))
        rounded = round_load(wanted_kg, self.sizes_kg, self.step_kg)
        return max(rounded, self.least_kg) if self.least_kg else rounded

    def below(self, load_kg: float) -> float:
        """The next load below [kg]; the same where there is none."""
        if self.sizes_kg:
            return max((s for s in self.sizes_kg if s < load_kg), default=load_kg)
        step = (self.step_kg or 1.0) * 2  # a plate on each side
        least = self.least_kg or step
        return max(least, load_kg - step) if load_kg > least else load_kg


def rack_of(filter_: Filter, other: Movement) -> Rack:
    """What the implement that a loaded movement is done with today can weigh."""
    assert other.load is not None
    library = filter_.library
    held = [library.equipment[i] for item in at_hand(filter_, other) for i in equipment_in(item)]
    weighs = [e for e in held if e.sizes_kg or e.step_kg]
    usual = library.equipment[other.load.implement]
    implement = usual if usual in weighs or not weighs else weighs[0]
    if told := filter_.today.sizes_kg.get(implement.id):
        return Rack(implement.id, tuple(sorted(told)), told=True)
    pair = any(item.startswith("2 ") for item in at_hand(filter_, other))
    sizes = tuple(s for s in implement.sizes_kg if not (pair and s in implement.single_kg))
    least = implement.base_kg[1] if implement.base_kg else None
    return Rack(implement.id, sizes or implement.sizes_kg, implement.step_kg, least)


def on_hand_kg(filter_: Filter, other: Movement, wanted_kg: float) -> float:
    """The load nearest to a wanted one that what is at hand can be made to weigh."""
    return rack_of(filter_, other).nearest(wanted_kg)
