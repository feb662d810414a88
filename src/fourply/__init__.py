"""fourply: from a list of works on paper to everything the framer's bench needs."""

__version__ = "0.1.0"
