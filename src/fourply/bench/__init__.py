"""The bench: one cutter, one pair of hands, and what to set for each cut.

Lives here:   a cutter's profile, the settings of every cut seen from the back, the fitting of a package, what must not
              be forgotten.
May import:   errors, measure, working, trade, planning.plan.
Never here:   a drawing; a size that the package does not already have.
Tested by:    the published routine for a bottom-weighted mat, tables, and formulas evaluated from their operands.
"""
