"""A piece as a whole: what each line adds up to, how long it takes, and which strains it sums.

`laid_out` turns a block of the board into work with amounts per round; `timing` gives it seconds, rounds or slots by
level; `character` says in words what kind of piece that is; `doses` adds up strains against stated thresholds.
"""
