"""A body that nobody has is refused, and the message names the accepted range."""

from __future__ import annotations

import math

import pytest

from subgraph.errors import RangeError
from subgraph.models.body import Body


@pytest.mark.parametrize(
    ("stature_m", "mass_kg", "said"),
    [
        (5.0, 80.0, "stature is 5 m; the accepted range is 1.2 to 2.3 m"),
        (0.0, 80.0, "stature is 0 m; the accepted range is 1.2 to 2.3 m"),
        (1.8, 0.0, "body mass is 0 kg; the accepted range is 25 to 250 kg"),
        (1.8, -70.0, "body mass is -70 kg; the accepted range is 25 to 250 kg"),
        (1.8, 900.0, "body mass is 900 kg; the accepted range is 25 to 250 kg"),
        (math.nan, 80.0, "stature is nan m"),
        (1.8, math.inf, "body mass is inf kg"),
    ],
)
def test_impossible_body_names_the_range(stature_m: float, mass_kg: float, said: str) -> None:
    with pytest.raises(RangeError) as error:
        Body("female", stature_m, mass_kg)
    assert str(error.value).startswith(said)


@pytest.mark.parametrize(("stature_m", "mass_kg"), [(1.2, 25.0), (2.3, 250.0)])
def test_ends_of_the_range_are_accepted(stature_m: float, mass_kg: float) -> None:
    assert Body("male", stature_m, mass_kg).mass_kg == mass_kg
