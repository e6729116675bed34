"""Name and version, as printed on pages."""

from __future__ import annotations

from typing import Final

VERSION: Final = "0.1.0"
MADE_WITH: Final = f"Loftwright {VERSION}"
