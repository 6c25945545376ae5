"""What stands at the head of every paper, and the unit and the paper it is made for."""

from __future__ import annotations

from linkviz.conventions import GRAVITY
from linkviz.frozen import Frozen
from linkviz.papers.shapes import Size
from linkviz.units import Unit, from_mm


class Heading(Frozen):
    """Job, date, customer, and how it is printed.

    Attributes
    ----------
    job, customer, vehicle : str
        As the shop writes them; "" where there is none.
    date : str
        ISO 8601, ``2026-11-25``.
    unit : {"mm", "in"}
        Unit of all lengths.
    paper : {"a4", "letter"}
        Paper to print on.
    """

    job: str = ""
    date: str = ""
    customer: str = ""
    vehicle: str = ""
    unit: Unit = "mm"
    paper: Size = "a4"

    def exact(self, mm: float) -> str:
        """Return a length for making, without its unit: to 0.1 mm or 0.001 in."""
        return f"{from_mm(mm, self.unit) + 0.0:.{1 if self.unit == 'mm' else 3}f}"

    def length(self, mm: float) -> str:
        """Return a length for making with its unit."""
        return f"{self.exact(mm)} {self.unit}"

    def mass(self, kg: float) -> str:
        """Return a mass: kg, and pounds beside it on papers in inches."""
        pounds = f" ({kg / 0.45359237:.2f} lb)" if self.unit == "in" else ""
        return f"{kg:.2f} kg{pounds}"

    def force(self, kn: float) -> str:
        """Return a force of a press, with metric tons beside it, or US tons on papers in inches."""
        tons = f" ({kn / 8.896443:.1f} US tons)" if self.unit == "in" else f" ({kn / GRAVITY:.1f} t)"
        return f"{kn:.0f} kN{tons}"

    def torque(self, nmm: float) -> str:
        """Return a tightening torque from N mm: N m, or lbf ft on papers in inches."""
        return f"{nmm / 1355.8179:.0f} lbf ft" if self.unit == "in" else f"{nmm / 1000.0:.0f} N m"
