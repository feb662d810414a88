"""Use cases: what somebody can ask of fourply, one function each.

Lives here:   reading a show, resolving it, planning it, composing and writing what comes out; the ports that they need.
May import:   errors, measure, working, trade, planning, bench, costing, drawing, sheets, render, files.
Never here:   SQL, HTTP, a rule of the trade, printing to a terminal.
Tested by:    whole shows through the public way in.
"""
