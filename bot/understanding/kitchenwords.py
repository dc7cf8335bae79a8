"""Words of the kitchen: what is done there, what means the same, where things stand. Tables only."""

from __future__ import annotations

from bot.understanding.patterns import listed

ACTIONS = listed(
    "add age air assemble autolyse bag bake baste beat blanch blend blitz boil bottle braise "
    "break brew brine bring brown brush bubble build bulk burn burp candy carve char chill chop churn "
    "clarify clean coat combine confit cook cool cover crack crimp crisp crumb crumble crush "
    "culture cure cut debone decant degas deglaze dehydrate dice dilute dip discard divide dock "
    "drain dredge dress drizzle drop dry dust feather feed ferment fill fillet filter flatten "
    "flip float fold form freeze fry garnish gather glaze grate grease griddle grill grind grow "
    "gut hang heat hull infuse inoculate jar juice knead knock ladle laminate layer leaven let "
    "line load macerate marinade marinate mash massage mature melt mill mince mix mould open pack "
    "pan pat peak peel pick pickle pipe pit plate pluck poach portion pot pound pour preheat "
    "prepare press prick proof prove puree quarter reduce refresh refrigerate rehydrate release "
    "render rest retard rinse ripen rise roast roll rub salt saute scald scale scoop score "
    "scramble scrub seal sear season seed seethe serve set shake shape shell shred shuck sift "
    "simmer skewer skim skin slice slow smash smoke soak soften sort sour souse spatchcock split "
    "spread sprinkle sprout squeeze stand steam steep stew stir store strain stretch string stuff "
    "sweat sweeten swirl taste temper tenderise thaw thicken tie tip toast top toss trim truss "
    "turn twist vent warm wash weigh whip whisk wilt wipe wrap zest"
)
"""What is done in a kitchen, as the words stand in a plan's names."""

IRREGULAR = {
    "beat": "beat beaten", "break": "broke broken", "bring": "brought", "build": "built",
    "burn": "burnt burned", "cut": "cut", "feed": "fed", "freeze": "froze frozen", "grind": "ground",
    "hang": "hung hanged", "let": "let", "put": "put", "rise": "rose risen", "set": "set",
    "shake": "shook shaken", "split": "split", "spread": "spread", "stick": "stuck", "string": "strung",
    "sweat": "sweat sweated", "take": "took taken", "make": "made", "prove": "proved proven",
    "stand": "stood", "grow": "grew grown", "lay": "laid", "knead": "kneaded kneeded",
    "wring": "wrung", "leave": "left", "hold": "held",
}  # fmt: skip
"""Past forms that do not simply end in -ed."""

ALIKE = (
    "loaf bread boule",
    "starter levain sourdough",
    "drain strain",
    "soak steep",
    "simmer cook boil stew bubble",
    "bake roast cook",
    "roast cook",
    "poach cook",
    "fry saute cook",
    "chill cool refrigerate fridge cold",
    "vent burp degas",
    "mix combine stir",
    "fold stretch",
    "shape form",
    "feed refresh",
    "slice cut carve",
    "chop cut dice",
    "quarter cut chop",
    "rinse wash",
    "dry pat",
    "salt season",
    "pack jar fill",
    "ferment pickle",
    "rise prove bulk",
    "proof prove retard",
    "ripen peak mature",
    "heat preheat warm",
    "sweat soften",
    "crisp fry sear",
    "brown sear fry",
    "layer assemble build stack",
    "grind blend blitz",
    "griddle fry",
    "plate dish",
    "dress toss",
    "rest stand",
    "batter dough",
    "pickle ferment kraut jar",
    "jar kilner crock",
    "lid top cap",
    "tender soft cooked",
    "soft tender squishy",
    "dome peak puff",
    "double twice",
    "float bob",
    "sour tangy tart",
    "set wobble firm thick",
    "golden brown",
    "airy fluffy bubbly",
    "crust crusty",
    "cream creme",
    "casserole dish stew",
    "leave salad",
    "stock broth",
    "turn flip rotate",
    "stir mix",
    "potato spud",
    "chilli chili chile",
)
"""Words that stand for one another in a kitchen; the first is what a plan says, the others what cooks say."""

PLACES = {
    "oven": "oven", "fridge": "fridge", "freezer": "freezer", "heat": "heat", "stove": "heat", "hob": "heat",
    "burner": "heat", "gas": "heat", "stovetop": "heat", "boil": "heat",
}  # fmt: skip
"""Where things go in and come out, by the word for it."""

COMMON = frozenset(
    listed(
        "angle angry ankle arm army around backed bake baked bang batch batter beam bean bear "
        "beard beat bed been beer best better bid billed bitter boil boiled bold bolder book "
        "boulder bound bowl brain braised brake bread break brushed burned butter cake cash cast "
        "catch change charge charm chart chat cheap cheat chilled chopped coiled cold cook cooked "
        "cooled cost crash cream cried crush crushed crust cube cure cute day dead deck died "
        "dinner dished dock door drain dream dressed drew dried drilled dropped dry duck dusk "
        "dust earned elder fake faked farm fed feed feel feet filled fine finished fired firm "
        "fished fixed flat flushed fold folder food fooled form found four fried from furnished "
        "gang gold good grain grand great green greet grilled ground guess guest guests halted "
        "hammer hang hanged harm head healed hear heart heat heed heel hired hold holder hook "
        "hour inner invented killed lake lamb late later latter layer lead leaf learned leave "
        "leaves led left letter lid limb lime line load look luck make match meal meat milk "
        "milked mine mixed mold molder mood mould must naked neat need needed needs nest nice oiled older "
        "order packed parked peak peel peeled pick picked pickle pipe place plan plane plant "
        "plate player popped pound pour praised prayer pressed price pure pushed quest rain "
        "raised rake raked rang read red reel rented rest rested rice rinsed ripe rise round "
        "rushed sake salad salted sample sang scream sealed seat seed shake shape share shared "
        "shaved shopped shoulder sick sides silk simmer simple sinner skate slate slated slice "
        "slid slide slides soak soap sock sold sound soup sour speak spilled spoiled stack stake "
        "stared starred started starter state stated stayed steak stick sticky stock stopped "
        "storm strained stressed stuck summer sure swarm take test tested time tired toilet told "
        "toned took topped tour train trained treat tricky tried trust tube tuned turned type "
        "uncle under vented vested waited waiter wake warm wash washed watch watched water weak "
        "weed week weigh west willed wine winner wipe wired wise wished wonder wood worm wound "
        "your"
    )
)
"""Ordinary words that lie one slip of the finger from kitchen words, so that they are never taken for one."""
