"""What the brackets of a job are designed by: its own rules, the usual ones where it has none."""

from __future__ import annotations

from linkviz.analysis.bracket.room import Room, lifts_between
from linkviz.analysis.bracket.rules import Rules
from linkviz.analysis.bracket.table import RulesTable
from linkviz.analysis.limits import DEFAULTS, LinkLimits
from linkviz.book.model import Job
from linkviz.bracket.loads import CASES


def rules_of(job: Job, links: LinkLimits = DEFAULTS) -> Rules:
    """Return the rules of a job.

    Parameters
    ----------
    job : Job
        Its load cases and its rules.
    links : LinkLimits
        Limits of the trailing links: the shop's judgement, which is kept on its computer and not with the job.
    """
    table = job.rules or RulesTable()
    return Rules(
        cases=tuple(case.case() for case in job.load_cases) or CASES,
        links=links,
        room=Room(table.room_to_ground, table.room_to_axle),
        lifts=lifts_between(table.lowest_lift, table.highest_lift),
        bar_angle_deg=table.bar_angle_deg,
    )
