"""Reading what people and programs hand us, and writing what they take away.

Lives here:   planning instances and plans (`instances`), lists of works, materials, show files, window outlines; the
              one codec between values and versioned JSON.
May import:   errors, measure, working, trade, planning.problem, planning.plan, planning.stick_problem, bench, costing.
Never here:   a guess made in silence: every fault says the file, the place, what was found and what would be right.
Tested by:    round trips, tables of faults, and made-up rubbish that must never end in a traceback.
"""
