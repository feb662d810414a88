"""The drawing language: what a page shows, as data that any writer can turn into bytes.

Lives here:   the pen and its recording, stroke roles, shapes and hatches, filters, text runs with real fractions and
              their measuring, dimensions, page sizes and scales; scenes in colour and the light on them. Page
              coordinates are millimetres as floats, from the top left corner, y down; angles are degrees, positive as
              the clock goes (as y is down), except for text, whose angle is the reader's: positive against the clock.
May import:   measure, errors.
Never here:   a word of the framing trade; a file, a font format, a byte of any output format.
Tested by:    examples and properties on recorded drawings; the writers read back what is drawn here.
"""
