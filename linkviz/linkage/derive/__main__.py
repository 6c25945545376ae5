"""Print the equations anew."""

from __future__ import annotations

from linkviz.linkage.derive import printer, shown

for part in (printer, shown):
    part.write()
    print(f"wrote {part.TARGET}")
