"""The pages by name: what the tabs, the menu and the shortcuts are made from."""

from __future__ import annotations

from importlib import import_module

from linkviz.frozen import Frozen
from linkviz.session import view
from linkviz.session.session import Session
from linkviz.window.pages.page import Page


class Entry(Frozen):
    """One page.

    Attributes
    ----------
    name : str
        Its name in the view.
    tab : str
        Words on its tab.
    menu : str
        Words in the menu, with the letter to press.
    tip : str
        What it is for.
    place : str
        Module and class, loaded when the page is first shown.
    """

    name: view.Page
    tab: str
    menu: str
    tip: str
    place: str

    def make(self, session: Session) -> Page:
        """Make the page."""
        module, kind = self.place.split(":")
        page: Page = getattr(import_module(f"linkviz.window.pages.{module}"), kind)(session)
        return page


ENTRIES: dict[view.Page, Entry] = {
    entry.name: entry
    for entry in (
        Entry("counter", "Counter", "Page: &Counter", "What the lift changes", "counter:CounterPage"),
        Entry("vehicle", "Vehicle", "Page: &Vehicle", "Measured points and sizes", "vehicle:VehiclePage"),
        Entry("lift", "Lift", "Page: &Lift", "Ride height from springs, spacer and load", "lift:LiftPage"),
        Entry(
            "clearance",
            "Clearance",
            "Page: Cl&earance",
            "Envelopes and where the shaft comes near",
            "clearance:ClearancePage",
        ),
        Entry("bracket", "Bracket", "Page: &Bracket", "How long, which holes, how strong", "bracket:BracketPage"),
        Entry("valve", "Brake valve", "Page: Brake val&ve", "The load-sensing brake valve", "valve:ValvePage"),
        Entry("papers", "Papers", "Page: &Papers", "What leaves the shop: look at it, write it", "papers:PapersPage"),
    )
}
"""In the order of `linkviz.session.view.PAGES`, which is that of the tabs."""
