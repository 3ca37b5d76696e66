"""The figures of the knowledge base."""

from __future__ import annotations

from subgraph.library.knowledge import Library


def counts(library: Library) -> list[tuple[str, int]]:
    """What the library holds, as (name, number) in print order."""
    basis = {kind: sum(r.basis == kind for r in library.ratios) for kind in ("practice", "measured", "modelled")}
    profiles = library.complaints.values()
    return [
        ("movements", len(library.movements)),
        ("families", len(set(library.family.values()))),
        ("names", sum(1 + len(m.also) for m in library.movements.values())),
        ("links", len(library.links)),
        ("needs", sum(len(m.needs) for m in library.movements.values())),
        ("ratios from practice", basis["practice"]),
        ("ratios measured", basis["measured"]),
        ("ratios modelled", basis["modelled"]),
        ("postures", len(library.postures)),
        ("equipment", len(library.equipment)),
        ("demands", len(library.demands)),
        ("graded demands", sum(len(m.demands) for m in library.movements.values())),
        ("complaint profiles", len(library.complaints)),
        ("of which sites", sum(c.kind == "site" for c in profiles)),
        ("provocations", len(library.provocations)),
        ("red flags", len(library.red_flags)),
        ("red-flag phrases", sum(len(f.phrases) + len(f.weak) for f in library.red_flags.values())),
        ("sources", len(library.sources)),
    ]
