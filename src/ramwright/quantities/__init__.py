"""Units at the edges, values with a spread, honest rounding. Inside, everything is SI."""

from ramwright.quantities.estimate import Estimate

__all__ = ["Estimate"]
