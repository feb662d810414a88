"""Exact lengths, and how people write them.

Lives here:   `Length` (a whole number of nanometres), `Size`, `Edges`, named rounding and grids, text to length
              and back, names of paper and board sizes.
May import:   errors.
Never here:   a word of the framing trade; a float where lengths are added or compared.
Tested by:    properties (sums, splits, parse and format undo one another) and tables of text.
"""
