"""Answers for people and programs: plain text at 80 columns, and JSON with fixed names.

`text` lays out what a coach reads at arm's length; `data` gives the same as plain values. Neither decides anything.
"""
