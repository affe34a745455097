"""How near estimates came: bias, typical miss, share within a quarter, each with its range.

Definitions of the figures: Conte, Dunsmore, Shen, Software Engineering Metrics and Models (1986).
"""

from __future__ import annotations

ENOUGH = 8
"""Jobs from which more than the figures is said. Common practice, no source: at five a median's
19-in-20 range does not exist at all, at six it is from the least to the most."""
WITHIN = 0.25
"""A miss of at most this is near."""
