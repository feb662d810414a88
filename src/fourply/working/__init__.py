"""Why a figure is what it is.

Lives here:   `Rule` (a formula with its reason and source), `Working` (a value, its rule, its operands by figure path),
              `Ledger` (figures while they are being worked out), `explain` (figures into lines that people read).
May import:   errors, measure.
Never here:   a formula of the trade.
Tested by:    tables of lines; every formula of the trade is evaluated from its operands and held against its value.
"""
