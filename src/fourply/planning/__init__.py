"""Cutting plans: which piece is cut from which board, stick or pane, at what least cost, and how near that is to best.

Lives here:   `problem` (what is asked) and `plan` (what is answered), `budget`, the planners behind `boards`,
              `sticks` and `panes`, lower bounds, and `referee`, which rechecks every plan and imports `problem`
              and `plan` alone.
May import:   errors, measure. NumPy, HiGHS and the compiler only inside the engines, and only where they are used.
Never here:   a mat, a frame, a price other than a whole number of the smallest unit, a float where lengths are
              added or compared; a file, a random source; a clock other than one passed in with the budget.
Tested by:    the referee on every plan, exhaustive search on tiny problems, properties (never worse with more
              stock, bound never above cost), and plans spoilt one way at a time.

Lengths are plain whole nanometres here. A sheet, an offcut and a fallout differ in cost and number alone.
"""
