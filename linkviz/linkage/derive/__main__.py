"""Print the equations anew."""

from __future__ import annotations

from linkviz.linkage.derive.printer import TARGET, write

write()
print(f"wrote {TARGET}")
