"""Names that two records claim."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from subgraph.checks.site import Site
from subgraph.errors import Problem
from subgraph.library.names import Named, words


def claimed_twice(site: Site) -> Iterator[Problem]:
    """Every name leads to one record of its kind.

    Good: `T2B` under toes-to-bar only. Bad: `PU` under both pull-up and push-up.
    """
    lib = site.library
    groups: dict[str, tuple[Mapping[str, Named], ...]] = {
        "movements": (lib.movements,),
        "equipment": (lib.equipment,),
        "complaints": (lib.complaints,),  # a bare word that both know means the complaint
        "provocations": (lib.provocations,),
        "limits": (lib.limits,),
        "levels": (lib.levels,),
        "intents": (lib.intents,),
    }
    for collection, parts in groups.items():
        owner: dict[str, str] = {}
        for part in parts:
            for record in part.values():
                kind = collection
                for position, text in enumerate((record.id, record.name, *record.also)):
                    field = "id" if position == 0 else "name" if position == 1 else f"also.{position - 2}"
                    key = "".join(words(text, lib.abbreviations))
                    if not key:
                        yield site.problem(
                            kind,
                            record.id,
                            field,
                            f"'{text}' holds no letters",
                            mend="write a name",
                            rule="alias-unique",
                        )
                    elif owner.setdefault(key, record.id) != record.id:
                        yield site.problem(
                            kind,
                            record.id,
                            field,
                            f"'{text}' is also a name of {owner[key]}",
                            mend=f"keep it with one of the two ({site.where(collection, owner[key])})",
                            rule="alias-unique",
                        )
