"""What stands on each printed page: the ticket of a work, the cutting sheet of a board, a work as it will hang.

Lives here:   views (exactly what a sheet shows, in words and millimetres), the mapping from packages and plans to
              views, and the composition of views into drawings.
May import:   errors, measure, working, trade, planning.plan, bench, costing, drawing.
Never here:   a sum of the trade: what is drawn was computed before; sheets only choose, format and place it.
Tested by:    golden drawings, and properties over made-up views: nothing on top of anything, nothing off the page.
"""
