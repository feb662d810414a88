"""Every figure of a work, those of the bench among them."""

from __future__ import annotations

from fourply.bench.cutter import NOMINAL, Cutter
from fourply.bench.fitting import fitting
from fourply.bench.settings import settings
from fourply.trade.package import Package
from fourply.working.working import Figures


def all_figures(package: Package, cutter: Cutter = NOMINAL) -> Figures:
    """Return the figures of a package with those of the bench: settings on a cutter, and fitting."""
    figures = dict(settings(package, cutter).figures)
    fitted = fitting(package)
    return figures | dict(fitted.figures) if fitted else figures
