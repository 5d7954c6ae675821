"""Standard gravity, needed only where something moves. Weights are forces [N] everywhere else.

Source: NIST SP 811, exact by definition (from memory).
"""

from typing import Final

STANDARD_GRAVITY: Final = 9.80665
"""[m/s2]; 32.17405 ft/s2."""
