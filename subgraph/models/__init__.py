"""Physics and physiology of exercise as pure functions: numbers in, numbers out.

`body` holds the published segment table, `posture` says how that body is held and where it touches, `skeleton` places
its segments, `supports` balances it, and `mechanics`, the front door, tells share on the hands, work of a rep and
gravitational moments. `energy` turns pace into oxygen, METs and calories; `load` turns repetitions into loads and
back; `pace` turns an amount into seconds.

Every figure carries its paper, and every model states its range of validity and the size of its error, which the
ratio network takes as the model's sigma. Nothing here reads a file, knows a movement by name or imports from the
library; outside its range a model raises `RangeError`. The package itself exports nothing, so that importing is fast.
"""
