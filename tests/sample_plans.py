"""Meals of our own, for tests of what is drawn and exported: small, large, long-named, in other scripts."""

from __future__ import annotations

from datetime import time, timedelta

from scheduler.domain.hours import Weekly
from scheduler.domain.plan import Plan
from tests.sample_timetables import AT_WORK, D1, DAY, EVERY_DAY, H1, Draft, H, N, U, cook, plan_of, tend


def small() -> Plan:
    """Four steps on one day."""
    return plan_of(
        "Soup and toast",
        "2026-12-12 13:00",
        "Europe/Paris",
        {
            "Soup": [
                Draft("Chop the leeks and potatoes", H, 20),
                Draft("Simmer the soup", N, 45, until="the potatoes give way"),
                Draft("Blend and season", H, 10, keeps=30),
            ],
            "Toast": [Draft("Toast the bread", H, 5)],
        },
        serves=4,
    )


def two_weeks() -> Plan:
    """Thirty-one steps over two weeks, most of them on the last day."""
    return plan_of(
        "Winter table for eight",
        "2026-12-12 19:30",
        "Europe/Paris",
        {
            "Red cabbage pickle": [
                Draft("Salt and pack the cabbage", H, 30),
                Draft("Cabbage ferments", U, 10 * D1, until="sour", tend=tend("Vent the lid", DAY, 5 * DAY)),
                Draft("Chill the jar", U, 6 * H1 + 20, keeps=3 * D1),
            ],
            "Cured beef": [
                Draft("Rub the beef with salt", H, 20),
                Draft("Cure in the fridge", U, 5 * D1, tend=tend("Turn the beef", DAY)),
                Draft("Rinse, dry and tie", H, 25),
                Draft("Hang in the cold", U, 3 * D1, keeps=2 * D1),
                Draft("Slice the beef thinly", H, 20, keeps=60),
            ],
            "Rye loaf": [
                Draft("Feed the starter", H, 10),
                Draft("Starter ripens", U, 10 * H1, until="domed and floating"),
                Draft("Mix the dough", H, 25),
                Draft("First rise", N, 4 * H1, tend=tend("Fold the dough", timedelta(minutes=50))),
                Draft("Shape the loaf", H, 15),
                Draft("Cold proof", U, 14 * H1),
                Draft("Heat the oven for bread", N, 40),
                Draft("Bake the loaf", N, 55),
                Draft("Cool the loaf", U, 5 * H1, keeps=12 * H1),
            ],
            "Beans": [
                Draft("Soak the beans", U, 14 * H1),
                Draft("Drain the beans", H, 5),
                Draft("Simmer the beans", N, 105, until="tender", keeps=60),
            ],
            "Cream": [
                Draft("Stir the culture into the cream", H, 5),
                Draft("Cream sets", U, 20 * H1),
                Draft("Chill the cream", U, 9 * H1, keeps=7 * D1),
            ],
            "Casserole": [
                Draft("Brown the sausages", H, 30, after=("Beans",)),
                Draft("Sweat the onions and garlic", H, 15),
                Draft("Layer the casserole", H, 20),
                Draft("Bake the casserole", N, 135, tend=tend("Break the crust", timedelta(minutes=40))),
                Draft("Rest the casserole", N, 15, keeps=20),
            ],
            "Leaves": [Draft("Wash and dry the leaves", H, 10, keeps=120), Draft("Make the dressing", H, 5)],
            "Table": [
                Draft(
                    "Slice the bread, dress the leaves, plate up",
                    H,
                    15,
                    after=("Casserole", "Rye loaf", "Red cabbage pickle", "Cured beef", "Cream", "Leaves"),
                )
            ],
        },
    )


def two_cooks() -> Plan:
    """A late breakfast in Kolkata after a pickle of three weeks."""
    return plan_of(
        "Breakfast for the whole house",
        "2026-12-06 11:00",
        "Asia/Kolkata",
        {
            "Lime pickle": [
                Draft("Quarter, salt and jar the limes", H, 30, cook="Mira"),
                Draft("Limes soften", U, 21 * D1, tend=tend("Turn the jar", DAY), keeps=180 * D1),
            ],
            "Batter": [
                Draft("Soak the rice and the urad dal", U, 6 * H1),
                Draft("Grind the batter", H, 40, cook="Dev"),
                Draft("Batter rises", U, 12 * H1, until="doubled and airy", keeps=120),
            ],
            "Lentils": [
                Draft("Boil the toor dal", N, 35),
                Draft("Simmer with tamarind and vegetables", N, 30, keeps=60),
            ],
            "Chutney": [Draft("Grind the chutney", H, 15, cook="Dev", keeps=240)],
            "Table": [
                Draft(
                    "Cook on the griddle and serve",
                    H,
                    30,
                    5,
                    cook="Mira",
                    after=("Batter", "Lentils", "Chutney"),
                )
            ],
        },
        (cook("Mira", AT_WORK), cook("Dev", (Weekly(EVERY_DAY, time(9, 20), time(9, 50)),), (6, 21))),
        6,
    )


def clock_change() -> Plan:
    """Clocks go forward on the night before a breakfast (Europe/Paris, 29 March 2026)."""
    return plan_of(
        "Early breakfast",
        "2026-03-29 08:00",
        "Europe/Paris",
        {
            "Rolls": [
                Draft("Mix the dough", H, 20),
                Draft("Cold proof", U, 12 * H1),
                Draft("Shape the rolls", H, 20),
                Draft("Bake the rolls", N, 25),
            ],
            "Kefir": [
                Draft("Stir in the grains", H, 5),
                Draft("Kefir sours", U, 3 * D1, until="thick", keeps=D1),
            ],
        },
    )


def one_hour() -> Plan:
    """Over within the hour."""
    return plan_of(
        "Quick noodles",
        "2026-12-09 19:00",
        "America/New_York",
        {
            "Broth": [Draft("Bring the broth to a simmer", N, 25), Draft("Season", H, 2)],
            "Noodles": [Draft("Boil the noodles", N, 8), Draft("Drain", H, 1)],
            "Table": [Draft("Fill the bowls", H, 5, after=("Broth", "Noodles"))],
        },
        serves=None,
    )


LONG = "Peel, trim, quarter, salt, rinse, dry and pack the very first turnips of the season from the market"


def weekday() -> Plan:
    """A stew that simmers alone while the cook is at work on the day itself."""
    return plan_of(
        "Thursday stew",
        "2026-12-10 20:00",
        "Europe/Lisbon",
        {
            "Stock": [Draft("Roast the bones", N, 90), Draft("Stock draws", U, 20 * H1, keeps=D1)],
            "Stew": [
                Draft("Soak the peas", U, 23 * H1),
                Draft("Fill the slow pot", H, 20),
                Draft("Stew cooks slowly", U, 11 * H1),
                Draft("Taste and thicken", H, 20),
            ],
            "Rice": [Draft("Rinse the rice", H, 5), Draft("Steam the rice", N, 35)],
            "Table": [Draft("Set the table", H, 10, after=("Stew", "Rice", "Stock"))],
        },
    )


def long_names() -> Plan:
    """Names that fit nowhere, and one without a space in it."""
    return plan_of(
        f"{LONG}, and then a title that goes on for a good deal longer than anybody would read on a phone",
        "2026-12-12 19:30",
        "America/Argentina/ComodRivadavia",
        {
            LONG: [
                Draft(LONG, H, 30),
                Draft(f"{LONG} and wait", U, 4 * D1, tend=tend(LONG, DAY), keeps=D1),
                Draft(LONG, N, 90, tend=tend(LONG, timedelta(minutes=20))),
            ],
            "W" * 120: [Draft("W" * 200, H, 20), Draft("W" * 200, N, 600)],
        },
        (cook("Bartholomew-Maximilian of the upper valley"), cook("Ada")),
    )


def sixty() -> Plan:
    """Sixty steps in ten components: a third of them before the last day."""
    parts = {}
    for n in range(10):
        waits = [
            Draft(f"Prepare part {n + 1}", H, 15),
            Draft(f"Part {n + 1} ferments", U, (n + 1) * D1, until="sour", tend=tend("Stir", DAY)),
        ]
        day = [
            Draft(f"Drain and season part {n + 1}", H, 10 + n),
            Draft(f"Simmer part {n + 1}", N, 30 + 10 * n),
            Draft(f"Rest part {n + 1} under a cloth", U, 60 + 5 * n),
            Draft(f"Slice part {n + 1}", H, 10, keeps=60),
        ]
        parts[f"Part {n + 1}"] = waits + day
    return plan_of("Long table", "2026-12-12 19:30", "Europe/London", parts)


def other_scripts() -> Plan:
    """Names in many scripts, and names with signs that markup languages use."""
    return plan_of(
        "Déjeuner $x^2$ & <b>soupe</b> – दाल, 漢字, суп, σούπα, مرق, מרק 🍲",
        "2026-12-12 13:00",
        "Asia/Kathmandu",
        {
            "$\\frac{1}{2}$ & <Component>": [
                Draft("किताब $a_b^c$ \\textbf{bold}", H, 20),
                Draft(
                    "漢字の手順を読みながら野菜を切って鍋に入れて弱火で長く煮込んで最後に塩と胡椒で味を整える",
                    N,
                    45,
                ),
                Draft("zero\x00width\u200b bidi\u202e \ud800 \uffff tab\tnew\nline --> ]]>", H, 10),
            ],
            "مرق": [Draft("اطبخ المرق على نار هادئة", N, 30), Draft("מרק", H, 5)],
            "": [Draft("", H, 5)],
        },
    )


SAMPLES = {
    maker.__name__: maker
    for maker in (
        small,
        two_weeks,
        two_cooks,
        clock_change,
        one_hour,
        weekday,
        long_names,
        sixty,
        other_scripts,
    )
}
