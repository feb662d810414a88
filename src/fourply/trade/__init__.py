"""The trade: what a work, its mats and its frame are, and how every size follows.

Lives here:   works, materials, treatments (how a work is to be matted and framed), the resolved package with its
              figures and findings, the pieces it asks for.
May import:   errors, measure, working.
Never here:   a file, a clock, a random number, a drawing; a board on the rack.
Tested by:    the table of check values, properties, and every formula evaluated again from its operands.
"""
