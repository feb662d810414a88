"""Writers: a drawing in, bytes out, one module a format, and the fonts they embed.

Lives here:   PDF, SVG, PNG, DXF, what makes a given photograph fit to be placed, and the two weights of the bundled
              type family with their licence.
May import:   drawing, measure, errors.
Never here:   a word of the framing trade; writing to a file (bytes are returned; only the bundled fonts are read).
Tested by:    reading back what was written: lengths, figures, text, fonts.
"""
