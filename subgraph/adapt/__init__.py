"""The whole workout for one member: each item as written or changed, chosen together, in the class's time.

`candidates` asks for each item, `joint` chooses over the piece, `numbers` turns ratios into what stands on a board,
`fit` brings the piece into the class's time, and `member` puts them together. `versions` does so for the columns that
a coach writes before class.
"""

from subgraph.adapt.member import Adapted, Changed, PieceAdapted, adapt

__all__ = ["Adapted", "Changed", "PieceAdapted", "adapt"]
