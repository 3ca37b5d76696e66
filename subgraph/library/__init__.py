"""The knowledge base: hand-written YAML records, read, checked, compiled and named.

`records` holds the types; `read` and `load` bring a folder of YAML in; `checks` lints its sense; `compile` keeps a
decoded copy between runs; `names` turns what a coach types into ids. Knows nothing of graphs, members or ranking.
"""
