"""Every figure of a work, those of the bench among them."""

from __future__ import annotations

from fourply.bench.cutter import NOMINAL
from fourply.bench.fitting import fitting
from fourply.bench.settings import settings
from fourply.trade.package import Package
from fourply.working.working import Figures


def all_figures(package: Package) -> Figures:
    """Return the figures of a package with those of the bench on a nominal cutter: settings and fitting."""
    figures = dict(settings(package, NOMINAL).figures)
    fitted = fitting(package)
    return figures | dict(fitted.figures) if fitted else figures
