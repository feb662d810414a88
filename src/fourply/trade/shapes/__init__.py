"""The shapes that a window can have: their outlines, what runs parallel to them, and how they are set out.

Lives here:   outlines of straight and curved pieces; one class for each shape; the rule that a shape follows from.
May import:   errors, measure.
Never here:   a drawing, a file, a finding. Curves are floats in millimetres about the middle of the opening, 1e-9
              relative; sizes and the numbers a person gave stay exact.
Tested by:    an independent geometry library at fine flattening, the table of check values, properties.
"""
