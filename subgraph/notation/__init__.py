"""Text to meaning: a one-line ask to an `Ask`, flags and free words to a `Today`.

`ask` reads "21 thrusters 43/30 kg"; `situation` reads what is missing, what hurts, what is not owned. Both turn
words into ids by the library's resolver and refuse with one clear error; neither ranks anything.
"""
