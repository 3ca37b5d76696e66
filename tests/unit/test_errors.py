"""The exact sentence of each error; callers read fields, people read these."""

from __future__ import annotations

import math

import pytest

from subgraph.errors import (
    AmbiguousNameError,
    AskError,
    LibraryError,
    Problem,
    RangeError,
    SubgraphError,
    UnknownNameError,
)

PROBLEM = Problem(
    "movements/pull.yaml",
    41,
    15,
    "ring-row",
    "demands",
    "no demand is called 'hangs'",
    "did you mean 'hang'?",
    "id-known",
)


def test_error_says_what_is_wrong_and_how_to_mend_it() -> None:
    error = SubgraphError("the ask is empty", mend="give a movement")
    assert str(error) == "the ask is empty; give a movement"
    assert (error.what, error.mend, error.nearest) == ("the ask is empty", "give a movement", ())


def test_error_without_a_mend_is_one_clause() -> None:
    assert str(SubgraphError("the ask is empty")) == "the ask is empty"


@pytest.mark.parametrize("kind", [AskError, UnknownNameError, AmbiguousNameError, RangeError, LibraryError])
def test_all_errors_are_of_one_family(kind: type[SubgraphError]) -> None:
    assert issubclass(kind, SubgraphError)


@pytest.mark.parametrize("kind", [UnknownNameError, AmbiguousNameError, RangeError])
def test_what_was_typed_wrongly_is_an_ask_error(kind: type[SubgraphError]) -> None:
    assert issubclass(kind, AskError)


def test_damaged_library_is_not_the_askers_fault() -> None:
    assert not issubclass(LibraryError, AskError)


def test_nearest_names_are_kept_in_order() -> None:
    assert UnknownNameError("no rigg", nearest=("rig", "rings")).nearest == ("rig", "rings")


@pytest.mark.parametrize(
    ("error", "sentence"),
    [
        (
            RangeError("walking speed", 2.5, 0.8, 1.7, "m/s"),
            "walking speed is 2.5 m/s; the accepted range is 0.8 to 1.7 m/s",
        ),
        (RangeError("share", 1.5, 0, 1), "share is 1.5; the accepted range is 0 to 1"),
        (
            RangeError("load", -1, 0, math.inf, "kg", mend="leave it out"),
            "load is -1 kg; the accepted range is 0 to inf kg; leave it out",
        ),
    ],
)
def test_range_is_told_with_its_unit(error: RangeError, sentence: str) -> None:
    assert str(error) == sentence


@pytest.mark.parametrize("value", [0.8, 1.0, 1.7])
def test_number_inside_the_range_is_given_back(value: float) -> None:
    assert RangeError.check("speed", value, 0.8, 1.7, "m/s") == value


@pytest.mark.parametrize("value", [0.79, 1.71, -1, math.inf, -math.inf, math.nan])
def test_number_outside_the_range_is_refused_with_its_fields(value: float) -> None:
    with pytest.raises(RangeError) as caught:
        RangeError.check("speed", value, 0.8, 1.7, "m/s")
    error = caught.value
    assert (error.name, error.low, error.high, error.unit) == ("speed", 0.8, 1.7, "m/s")
    assert error.value == value or math.isnan(value)


def test_way_out_of_the_range_is_named_where_there_is_one() -> None:
    with pytest.raises(RangeError) as caught:
        RangeError.check("speed", 2.5, 0.8, 1.7, "m/s", extrapolate=False)
    assert (
        str(caught.value)
        == "speed is 2.5 m/s; the accepted range is 0.8 to 1.7 m/s; pass extrapolate=True to go beyond it"
    )


def test_extrapolation_lets_any_finite_number_of_the_right_sign_through() -> None:
    assert RangeError.check("speed", 2.5, 0.8, 1.7, extrapolate=True) == 2.5
    assert RangeError.check("slope", -9, -0.5, 0.5, extrapolate=True) == -9


@pytest.mark.parametrize("value", [-0.1, math.inf, math.nan])
def test_extrapolation_stops_at_the_wrong_sign_and_at_no_number(value: float) -> None:
    with pytest.raises(RangeError):
        RangeError.check("speed", value, 0.8, 1.7, extrapolate=True)


def test_problem_is_one_line_with_place_record_field_and_rule() -> None:
    assert str(PROBLEM) == (
        "movements/pull.yaml:41:15: ring-row: demands: no demand is called 'hangs'; did you mean 'hang'? [id-known]"
    )


def test_problem_leaves_out_an_empty_field_and_mend() -> None:
    assert str(Problem("links", 1, 1, "-", "", "is missing")) == "links:1:1: -: is missing [structure]"


def test_problems_sort_by_file_line_and_column() -> None:
    places = [("b", 1, 1), ("a", 10, 1), ("a", 2, 9), ("a", 2, 1)]
    problems = [Problem(*place, "x", "", "w") for place in places]
    assert [(p.file, p.line, p.column) for p in sorted(problems)] == [
        ("a", 2, 1),
        ("a", 2, 9),
        ("a", 10, 1),
        ("b", 1, 1),
    ]


def test_problem_as_fields_for_json() -> None:
    assert PROBLEM.as_dict() == {
        "file": "movements/pull.yaml",
        "line": 41,
        "column": 15,
        "record": "ring-row",
        "field": "demands",
        "what": "no demand is called 'hangs'",
        "mend": "did you mean 'hang'?",
        "rule": "id-known",
        "severity": "error",
    }


def test_problem_cannot_be_changed() -> None:
    with pytest.raises(AttributeError):
        PROBLEM.line = 1  # type: ignore[misc]


def test_library_error_shows_the_first_problem_and_counts_the_rest() -> None:
    assert str(LibraryError((PROBLEM,))) == f"the library has errors: {PROBLEM}; run `subgraph library check`"
    both = LibraryError((PROBLEM, PROBLEM, PROBLEM))
    assert str(both) == f"the library has errors: {PROBLEM} (and 2 more); run `subgraph library check`"
    assert both.problems == (PROBLEM, PROBLEM, PROBLEM)
