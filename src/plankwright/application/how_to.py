"""The how-to: one floor told so that others can lay theirs; an article as a value, without files.

What is told comes from the plan, the slab, the shopping list and, where there is one, the log of
the laying. What is the household's own is left out unless it is wanted: the job's name, what doors
and things are called, prices, notes. Every section has a place for the writer's own words.
"""

from dataclasses import dataclass, replace

from plankwright.application.buy_job import BuyJob
from plankwright.application.lay_day import Day
from plankwright.application.lay_used import Used, planned_and_used
from plankwright.application.shopping_list import ShoppingList, shopping_list
from plankwright.application.slab_advice import SlabJob
from plankwright.model.plan import Plan
from plankwright.model.shopping import Totals

PLAIN_NAME = "The room"


@dataclass(frozen=True, slots=True)
class Wanted:
    """What of the household's own is told after all."""

    name: bool = False
    prices: bool = False
    notes: bool = False


@dataclass(frozen=True)
class HowToSource:
    """What the article is made from.

    Parameters
    ----------
    job : plan, doorways, slab, buying.
    found : its shopping list.
    day, first : the laying day and the plan it began with; None before anything is laid.
    wanted : what of the household's own is told.
    """

    job: BuyJob
    found: ShoppingList
    day: Day | None = None
    first: Plan | None = None
    wanted: Wanted = Wanted()

    @property
    def plan(self) -> Plan:
        """What is laid."""
        return self.job.plan

    @property
    def used(self) -> Used | None:
        """Planned against used; None before anything is laid."""
        if self.day is None:
            return None
        return planned_and_used(self.first or self.day.plan, self.day)


@dataclass(frozen=True, slots=True)
class HowToStep:
    """A step of the article.

    Parameters
    ----------
    key : names the place for the writer's own words.
    name : what is done.
    text : paragraphs.
    cautions : what can hurt, told before it is done.
    picture : key of its drawing; "" for none.
    """

    key: str
    name: str
    text: tuple[str, ...]
    cautions: tuple[str, ...] = ()
    picture: str = ""


@dataclass(frozen=True, slots=True)
class Supply:
    """Something to buy, as planned, and as it came out where that is known."""

    name: str
    planned: str
    used: str = ""


@dataclass(frozen=True, slots=True)
class HowTo:
    """The article.

    Parameters
    ----------
    title, lead : what it is about.
    facts : the floor at a glance, as pairs.
    supplies : materials, planned against used.
    tools : each with the reason for it.
    steps : in order.
    mishaps : what went wrong, and what mended it, as pairs.
    hours : work, planned hours, used hours; "" where they are not known.
    minutes : of all work, planned.
    gates : what is settled before anything is ground, scraped, drilled or pulled off.
    cautions : titles with their lines.
    totals : money, where it is wanted.
    laid : whether it tells of a floor that was laid.
    """

    title: str
    lead: tuple[str, ...]
    facts: tuple[tuple[str, str], ...]
    supplies: tuple[Supply, ...]
    tools: tuple[tuple[str, str], ...]
    steps: tuple[HowToStep, ...]
    mishaps: tuple[tuple[str, str], ...]
    hours: tuple[tuple[str, str, str], ...]
    minutes: int
    gates: tuple[str, ...]
    cautions: tuple[tuple[str, tuple[str, ...]], ...]
    totals: Totals | None = None
    currency: str = ""
    laid: bool = False


def source_of(
    job: BuyJob, *, day: Day | None = None, first: Plan | None = None, wanted: Wanted | None = None
) -> HowToSource:
    """What an article is made from, the household's own left out.

    Parameters
    ----------
    day, first : with a laying day, it and the plan it began with.
    """
    wanted = wanted or Wanted()
    told = job if wanted.name else _anonymous(job)
    return HowToSource(told, shopping_list(told), day, first, wanted)


def _anonymous(job: BuyJob) -> BuyJob:
    """The job without the names that a household gave to its rooms, doors and things."""
    doors = job.doorways or ()
    names = {door.name: f"doorway {number}" for number, door in enumerate(doors, 1) if door.name}
    plain = tuple(replace(door, name=names.get(door.name, "")) for door in doors)
    return BuyJob(
        plain_plan(job.plan),
        job.buying,
        job.unit,
        None if job.doorways is None else plain,
        None if job.slab is None else _plain_slab(job.slab, names),
    )


def _plain_slab(slab: SlabJob, names: dict[str, str]) -> SlabJob:
    """The slab with doors called as on the plan, and places by their numbers."""
    meetings = tuple(replace(m, name=names.get(m.name, m.kind)) for m in slab.meetings)
    readings = tuple(
        replace(reading, place=f"place {number}")
        for number, reading in enumerate(slab.slab.readings, 1)
    )
    return replace(slab, meetings=meetings, slab=replace(slab.slab, readings=readings))


def plain_plan(plan: Plan) -> Plan:
    """The plan with plain names for the room and for what stands in it."""
    fixed = tuple(replace(thing, name=thing.kind) for thing in plan.fixed)
    return replace(plan, name=PLAIN_NAME, fixed=fixed)
