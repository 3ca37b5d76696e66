"""Physics and physiology of exercise as pure functions: numbers in, numbers out.

`body` holds the published segment table, `posture` says how that body is held and where it touches, and `mechanics`
weighs the two: share on the hands, work of a rep, gravitational moments. `energy` turns pace into oxygen, METs and
calories; `load` turns repetitions into loads and back; `pace` turns an amount into seconds.

Every figure carries its paper, and every model states its range of validity and the size of its error, which the
ratio network takes as the model's sigma. Nothing in this package reads a file, knows a movement by name or imports
from the library; outside a model's range it raises `RangeError` and never extrapolates unasked. Import from the
modules; the package itself exports nothing, so that a bare import stays fast.
"""
