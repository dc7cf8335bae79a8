"""One of every message, and more than one of those that differ: what the limits are tried on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta

from bot.wording import Wording
from scheduler.change_words import offer
from scheduler.changes import Change, ChangeKind
from scheduler.commands import Target
from scheduler.domain.marks import MarkKind
from scheduler.domain.plan import Plan
from scheduler.domain.scaling import for_so_many
from scheduler.domain.stages import About, Stage
from scheduler.explain import Misfit, Remedy, serving_at
from scheduler.facts import NOW, SERVE, Fact, FactKind
from scheduler.planfile import Problem
from scheduler.planners import Here
from scheduler.service import answers as say
from scheduler.service.answers import Answer, Consequence, Said
from scheduler.service.deeds import Verb
from scheduler.service.explaining import why
from tests.wording_clocks import clock_messages
from tests.wording_kitchen import ZONE, Kitchen, day, deed, mark, moved, nudge, step, timetable

BEANS, CARROTS, LOAF, STEW = "Soak the chickpeas", "Carrots ferment", "Bake the loaf", "Bake the stew"

TOO_LATE = Misfit(
    day("11-21 19:30"),
    (
        "the meal is at Sat 21 Nov 19:30",
        "it is Fri 20 Nov 22:50, and nothing can begin earlier",
        "“Soak the chickpeas” takes at least 12 h",
        "“Simmer the chickpeas” may take 1 h 45 min until tender, skins whole",
    ),
    (SERVE, NOW, Fact(FactKind.LENGTH, 3), Fact(FactKind.LENGTH, 5)),
    (Remedy("Serve at Sat 21 Nov 20:45, the earliest hour that fits", day("11-21 20:45")),),
)

SHIFTED = (
    moved("Drain the chickpeas", "11-21 13:25", "11-21 13:40"),
    moved("Simmer the chickpeas", "11-21 13:30", "11-21 13:45"),
    moved("Brown the lamb", "11-21 15:30", "11-21 15:45"),
)

LISTS = ("day", "plan", "proposed", "bad file", "shopping", "help", "next", "ways", "rule")
"""Names of messages that are lists and may be longer."""


def gallery(kitchen: Kitchen) -> dict[str, Said]:
    """Every message by name."""
    words = Wording()
    said = dict(_nudges(kitchen, words)) | {"timer": words.timer("onions"), "timer unnamed": words.timer("")}
    for name, answer in (*_marks(kitchen), *_questions(kitchen), *_plans(kitchen), *_talk(kitchen)):
        said[name] = words.answer(answer)
    return said | dict(clock_messages(kitchen, words))


def _nudges(kitchen: Kitchen, words: Wording) -> Iterator[tuple[str, Said]]:
    for name, start in (
        ("Salt and pack the carrots", "11-10 18:00"),
        (BEANS, "11-20 20:00"),
        (LOAF, "11-21 09:00"),
        ("Brown the lamb", "11-21 15:30"),
        ("Rest the stew", "11-21 18:55"),
        ("Slice the bread and dish up", "11-21 19:10"),
    ):
        asked = nudge(About.START, Stage.NOW, name, start)
        yield f"now {name}", words.nudge(asked, kitchen.view(start, unsaid=[name]))
    for occurrence, now in enumerate(("11-20 20:15", "11-20 20:45", "11-20 21:45")):
        again = nudge(About.START, Stage.WAITING, BEANS, "11-20 20:00", occurrence)
        yield f"waiting {occurrence}", words.nudge(again, kitchen.view(now, unsaid=[BEANS]))
    closing = nudge(About.START, Stage.CLOSING, BEANS, "11-20 20:00")
    yield "closing", words.nudge(closing, kitchen.view("11-20 21:50", unsaid=[BEANS]))
    missed = nudge(About.START, Stage.MISSED, BEANS, "11-20 20:00")
    late = kitchen.view("11-20 22:10", unsaid=[BEANS])
    yield "missed fits", words.nudge(missed, late, Consequence(timetable(), None, SHIFTED))
    yield "missed misfit", words.nudge(missed, late, Consequence(None, TOO_LATE))
    yield "missed plain", words.nudge(missed, late)
    soon = nudge(About.START, Stage.HEADS_UP, "Brown the lamb", "11-21 15:30")
    yield "heads-up", words.nudge(soon, kitchen.view("11-21 14:45"))
    yield from _running_nudges(kitchen, words)
    yield from _ahead(kitchen, words)


def _running_nudges(kitchen: Kitchen, words: Wording) -> Iterator[tuple[str, Said]]:
    baking = mark(MarkKind.STARTED, LOAF, "11-21 09:00")
    for stage, now in ((Stage.NOW, "11-21 09:50"), (Stage.WAITING, "11-21 09:55")):
        yield (
            f"end {stage}",
            words.nudge(nudge(About.END, stage, LOAF, "11-21 09:50"), kitchen.view(now, baking)),
        )
    browning = mark(MarkKind.STARTED, "Brown the lamb", "11-21 15:30")
    over = nudge(About.END, Stage.WAITING, "Brown the lamb", "11-21 16:00")
    yield "end hands", words.nudge(over, kitchen.view("11-21 16:10", browning))
    sour = mark(MarkKind.STARTED, CARROTS, "11-10 18:20")
    for stage, now in (
        (Stage.NOW, "11-17 18:20"),
        (Stage.WAITING, "11-18 18:20"),
        (Stage.CLOSING, "11-20 17:20"),
        (Stage.MISSED, "11-20 18:40"),
    ):
        asked = nudge(About.LOOK, stage, CARROTS, "11-17 18:20")
        yield f"look {stage}", words.nudge(asked, kitchen.view(now, sour))
    vent = nudge(About.TEND, Stage.NOW, CARROTS, "11-13 18:20", 3)
    yield "tend", words.nudge(vent, kitchen.view("11-13 18:20"))
    turn = nudge(About.TEND, Stage.WAITING, STEW, "11-21 18:00", 3)
    yield "tend waiting", words.nudge(turn, kitchen.view("11-21 18:05"))


def _ahead(kitchen: Kitchen, words: Wording) -> Iterator[tuple[str, Said]]:
    for name, about, subject, now in (
        ("buy", About.BUY, "11-19 00:00", "11-19 07:20"),
        ("early", About.EARLY, "11-21 09:00", "11-20 21:30"),
        ("day friday", About.DAY, "11-20 00:00", "11-20 07:10"),
        ("day saturday", About.DAY, "11-21 00:00", "11-21 07:10"),
    ):
        step_named = {About.BUY: "Simmer the bones", About.EARLY: LOAF}.get(about)
        yield name, words.nudge(nudge(about, Stage.HEADS_UP, step_named, subject), kitchen.view(now))


def _marks(kitchen: Kitchen) -> Iterator[tuple[str, Answer]]:
    before = kitchen.fresh("11-10 08:00")

    def taken(verb: Verb, name: str, now: str, *marks: MarkKind, until: str | None = None) -> say.Taken:
        made = [mark(kind, name, now, until=until) for kind in marks]
        return say.Taken((deed(verb, name, until=until),), before, kitchen.view(now, *made))

    done = taken(Verb.DONE, "Drain the chickpeas", "11-21 13:41", MarkKind.DONE)
    yield "taken done", say.Taken(done.deeds, before, done.view, SHIFTED, late=("Starter ripens",))
    yield "taken started", taken(Verb.START, BEANS, "11-20 20:05", MarkKind.STARTED)
    yield "taken sets going", taken(Verb.DONE, "Salt and pack the carrots", "11-10 18:25", MarkKind.DONE)
    yield "taken cooling", taken(Verb.DONE, "Simmer the bones", "11-20 15:02", MarkKind.DONE)
    yield "taken later", taken(Verb.LATER, BEANS, "11-20 20:05", MarkKind.LATER, until="11-20 20:15")
    too_late = taken(Verb.LATER, BEANS, "11-20 20:05", MarkKind.LATER, until="11-20 23:15")
    yield "taken too late", replace(too_late, misfit=TOO_LATE)
    simmering = kitchen.view(
        "11-21 14:30",
        mark(MarkKind.STARTED, "Simmer the chickpeas", "11-21 13:30"),
        mark(MarkKind.LATER, "Simmer the chickpeas", "11-21 14:30", until="11-21 15:00"),
    )
    longer = deed(Verb.LATER, "Simmer the chickpeas", until="11-21 15:00")
    yield "taken longer", say.Taken((longer,), before, simmering)
    vented = kitchen.view("11-13 18:22", mark(MarkKind.DONE, CARROTS, "11-13 18:22", 3), unsaid=[])
    yield "taken touch", say.Taken((deed(Verb.DONE, CARROTS, 3),), before, vented)
    yield "taken touch later", say.Taken((deed(Verb.LATER, CARROTS, 4, "11-14 20:00"),), before, vented)
    yield "taken skipped", taken(Verb.SKIP, LOAF, "11-21 09:05", MarkKind.SKIPPED)
    yield "taken left out", taken(Verb.LEAVE_OUT, LOAF, "11-21 09:05", MarkKind.SKIPPED)
    yield "taken ruined", taken(Verb.RUINED, LOAF, "11-21 09:05", MarkKind.RUINED)
    yield "taken again", taken(Verb.AGAIN, LOAF, "11-21 09:05")
    misfit = taken(Verb.DONE, "Chill the jar", "11-20 22:50")
    yield "taken misfit", say.Taken(misfit.deeds, before, misfit.view, misfit=TOO_LATE)
    three = (
        deed(Verb.DONE, LOAF),
        deed(Verb.DONE, BEANS),
        deed(Verb.DONE, STEW),
        deed(Verb.SKIP, CARROTS, 2),
    )
    yield "taken many", say.Taken(three, before, done.view, SHIFTED, TOO_LATE, ("Starter ripens",))
    yield "taken last", taken(Verb.DONE, "Slice the bread and dish up", "11-21 19:26")
    yield "undone", say.Undone(done.view, ("Drain the chickpeas: done", "pH 3.9: note"), SHIFTED)
    yield "noted", say.Noted(done.view, "pH 3.9 on the carrots", step(CARROTS))
    yield "still going", say.StillGoing(kitchen.view("11-18 18:00"), step(CARROTS), day("11-19 18:20"))
    yield "still going, not again", say.StillGoing(kitchen.view("11-18 18:00"), step(CARROTS), None)


def _questions(kitchen: Kitchen) -> Iterator[tuple[str, Answer]]:
    friday = kitchen.view("11-20 12:00")
    for now in ("11-10 08:00", "11-13 12:00", "11-20 20:10", "11-21 13:26", "11-21 15:40", "11-21 19:28"):
        yield f"next {now}", say.NextIs(kitchen.view(now))
    yield "next overdue", say.NextIs(kitchen.view("11-21 13:28", unsaid=["Drain the chickpeas"]))
    for asked in (19, 20, 21, 23):
        yield f"day {asked}", say.DayIs(friday, date(2026, 11, asked))
    for name in (LOAF, CARROTS, BEANS, "Drain the chickpeas", "Feed the starter"):
        target = Target(step(name), name)
        yield f"when {name}", say.WhenIs(friday, target)
        yield f"why {name}", why(friday, target, Here())
    touch = Target(step(CARROTS), "Vent the lid", tend=True)
    yield "when touch", say.WhenIs(kitchen.view("11-13 12:00"), touch)
    yield "when touch, over", say.WhenIs(friday, touch)
    yield "when whole", say.WhenIs(friday, Target(step("Feed the starter"), "Rye loaf", whole=True))
    for text in (
        "how much salt for 850 g of carrots",
        "how much salt",
        "how much cinnamon",
        "water for 2 kg",
    ):
        yield f"amount {text}", say.AmountIs(kitchen.fresh("11-10 08:00"), text)
    yield "amount without plan", say.AmountIs(None, "how much salt")
    for text in ("is this safe to eat", "the stock sat out for three hours", "mould on the carrots"):
        yield f"caution {text}", say.Caution(friday, text)
    yield "caution without plan", say.Caution(None, "can I keep cooked rice")
    for text in (
        "the chickpeas sat out for an hour",
        "the stew was left out overnight",
        "it sat out all day",
    ):
        yield f"caution {text}", say.Caution(friday, text)
    for text in ("off at 14:00", "off at 8:00", "off at noon yesterday"):
        asked = f"when must the soup be cold if I took it {text}"
        yield f"cooling {text}", say.SumIs(None, "cool", asked, friday.now, friday.zone)
    yield (
        "out since",
        say.SumIs(None, "cool", "how long can it stay out since 10:00", friday.now, friday.zone),
    )
    yield "out", say.SumIs(None, "cool", "how long can the duck stay out", friday.now, friday.zone)
    yield "cooling", say.SumIs(None, "cool", "how fast must rice cool", friday.now, friday.zone)
    for detail in ("", "fri", "thu"):
        yield f"shopping {detail}", say.Shopping(kitchen.view("11-18 12:00"), detail)


def _ways(plan: Plan) -> tuple[Remedy, ...]:
    """Five ways out, as long as they come."""
    cook, since, until = plan.kitchen.cooks[0].name, day("11-20 22:30"), day("11-20 23:15")
    changes = (
        Change(ChangeKind.BED, cook, since, until),
        Change(ChangeKind.OFF, cook, since, until),
        Change(ChangeKind.HELPER, None, since, until),
        Change(ChangeKind.LEAVE_OUT, step=0),
    )
    made = tuple(Remedy(offer(change, plan), TOO_LATE.serve, change) for change in changes)
    return (*made, serving_at(day("11-21 20:45"), plan))


def _plans(kitchen: Kitchen) -> Iterator[tuple[str, Answer]]:
    fresh, friday = kitchen.fresh("11-10 08:00"), kitchen.view("11-20 22:50", unsaid=[BEANS])
    warnings = tuple(f"Thing {n} says nothing about keeping: it is used at once." for n in range(9))
    problems = tuple(Problem(n, 3, "'spoons'", "a weight such as 900 g, or a volume") for n in range(1, 12))
    yield "plan", say.PlanIs(fresh)
    yield "plan later", say.PlanIs(kitchen.view("11-20 12:00"))
    yield "proposed", say.Proposed(fresh, warnings, ("Sunday lunch",))
    yield "accepted", say.Accepted(fresh)
    yield "no fit", say.NoFit(7, kitchen.plan, TOO_LATE, friday.now)
    yield "no fit under way", say.NoFit(7, kitchen.plan, TOO_LATE, friday.now, under_way=True)
    yield (
        "no fit, unproven",
        say.NoFit(7, kitchen.plan, Misfit(day("11-21 19:30"), (), (), (), False), friday.now),
    )
    several = replace(TOO_LATE, because=(*TOO_LATE.because, *TOO_LATE.because), remedies=_ways(kitchen.plan))
    yield "ways", say.NoFit(7, kitchen.plan, several, friday.now, True, 3)
    yield "ways more", say.NoFit(7, kitchen.plan, several, friday.now, True, 3, shown=2)
    yield "ways, one", say.NoFit(7, kitchen.plan, replace(several, remedies=several.remedies[:1]), friday.now)
    yield "change made", say.ChangeMade(friday, "going to bed 45 min later on Fri 20 Nov, at 23:15", SHIFTED)
    eight = replace(friday, plan=replace(kitchen.plan, serves=8))
    ten = replace(friday, plan=for_so_many(eight.plan, 10))
    yield "ten instead of eight", say.ServesChanged(eight, ten)
    yield "hour fits", say.HourFits(friday, day("11-21 20:45"), timetable(), SHIFTED)
    yield "hour fits, alone", say.HourFits(friday, day("11-21 20:45"), timetable(), ())
    yield "hour moved", say.HourMoved(friday, SHIFTED)
    yield "bad file", say.BadFile(problems)
    yield "ask serve", say.AskServe(kitchen.plan.title)
    yield "discarded", say.Discarded(kitchen.plan.title)
    yield "stopped", say.Stopped(kitchen.plan.title)
    held = nudge(About.START, Stage.WAITING, BEANS, "11-20 20:00", 1)
    over = nudge(About.START, Stage.NOW, "Chill the jar", "11-20 18:20")
    yield "catch-up", say.CatchUp((friday,), ((7, over), (7, held)), day("11-20 17:55"), friday.now)
    calm = kitchen.view("11-20 22:50")
    yield "catch-up, nothing", say.CatchUp((calm,), ((7, held),), day("11-20 17:55"), calm.now)


def _talk(kitchen: Kitchen) -> Iterator[tuple[str, Answer]]:
    evening = kitchen.view("11-20 20:05", unsaid=[BEANS])
    yes = deed(Verb.DONE, BEANS)
    yield "welcome", say.Welcome("Ada")
    yield "welcome unnamed", say.Welcome()
    yield "zone unclear", say.ZoneUnclear("Pariss", ("Europe/Paris", "Europe/Prague"))
    yield "zone unknown", say.ZoneUnclear("somewhere")
    yield "ask hours", say.AskHours(ZONE, evening.now)
    yield "hours unclear", say.HoursUnclear("seven-ish", "hours such as 07:00-22:30")
    yield "settled", say.Settled(ZONE, "07:00-22:30")
    yield "refused", say.Refused("That time has not come yet.", (("It is over", yes), ("Not yet", yes)))
    yield "which", say.AskWhich(evening, "done", tuple((name, yes) for name in (BEANS, CARROTS, "x" * 40)))
    yield "confirm", say.Confirm("Leave “Carrot pickle” out?", deed(Verb.LEAVE_OUT, CARROTS), 7)
    yield "until", say.AskUntil(evening, step(BEANS), None, (day("11-20 20:20"), day("11-20 21:05")))
    yield "until touch", say.AskUntil(evening, step(STEW), 2, (day("11-21 20:20"),))
    yield "how late", say.AskHowLate(evening)
    yield "as it was", say.AsItWas()
    yield "timer set", say.TimerSet("onions", timedelta(minutes=4), evening.now, ZONE)
    yield "timer gone", say.TimerGone("onions", found=True)
    yield "timer unknown", say.TimerGone("", found=False)
    yield "quiet", say.QuietUntil(day("11-21 07:00"), ZONE, evening.now)
    yield "help", say.Help()
    yield "help too early", say.Help(ready=False)
    yield "no plan", say.NoPlan()
    yield "unclear", say.Unclear("the cat is on the counter")
    yield "unclear too early", say.Unclear("hm", ready=False)
    yield "failed", say.Failed()
    yield "undelivered", say.Undelivered("Now: Soak the chickpeas")
