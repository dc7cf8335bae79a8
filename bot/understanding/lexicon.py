"""Words of everyday talk: short forms, numbers, fillers, and words that say nothing about a step. Tables only."""

from __future__ import annotations

from bot.understanding.patterns import listed

IN_FULL = {
    "i am": "im", "i have": "ive", "i will": "ill", "i would": "id", "you are": "youre",
    "they are": "theyre", "they have": "theyve", "we have": "weve", "it is": "its", "that is": "thats",
    "there is": "theres", "here is": "heres", "what is": "whats wats wots", "when is": "whens",
    "where is": "wheres", "who is": "whos", "how is": "hows", "why is": "whys", "let us": "lets",
    "he is": "hes", "she is": "shes", "everything is": "everythings", "do not": "dont", "did not": "didnt",
    "does not": "doesnt", "can not": "cant cannot", "will not": "wont", "is not": "isnt aint",
    "are not": "arent", "was not": "wasnt", "were not": "werent", "have not": "havent", "has not": "hasnt",
    "had not": "hadnt", "would not": "wouldnt", "could not": "couldnt", "should not": "shouldnt",
    "going to": "gonna gunna", "want to": "wanna", "got to": "gotta", "let me": "lemme", "give me": "gimme",
    "do not know": "dunno idk", "kind of": "kinda", "you": "u", "are": "r", "your": "ur",
    "please": "pls plz plse", "thanks": "thx tnx ty", "because": "cos cuz coz bcoz becuase",
    "tomorrow": "tmrw tmr tmw tmo tomo 2moro 2morrow tommorow tommorrow tomorow tomorrows",
    "tonight": "2nite 2night tonite tonights", "today": "2day todays", "before": "b4", "until": "til till",
    "about": "abt", "with": "w", "and": "n", "min": "mins minute minutes minuets mintues minits",
    "hour": "hrs hr hours houre", "sec": "secs", "day": "days", "week": "weeks", "the": "teh hte",
    "just": "jsut juts", "done": "doen dnoe donr donee dun", "finished": "finsihed finishd",
    "started": "strated statred startd", "when": "wen wehn", "what": "wat wot wut waht",
    "fridge": "frige frdige refrigerator", "oven": "ovne ovn", "next": "nxt nex",
    "already": "alredy allready", "noon": "midday", "so": "fyi btw", "through": "thru", "though": "tho",
    "yes": "yh", "ready": "rdy", "temperature": "temp temps", "celsius": "celcius", "vegetables": "veg",
    "potatoes": "spuds", "little": "lil", "never mind": "nvm nevermind", "them": "em",
    "degrees": "deg degs",
}  # fmt: skip
"""What is typed or dictated in one word, common slips among it, by what it stands for."""

SHORT_FORMS = {short: full for full, shorts in IN_FULL.items() for short in shorts.split()}

UNITS_IN_WORDS = listed(
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen "
    "seventeen eighteen nineteen"
)

TENS_IN_WORDS = {
    "twenty": 20, "thirty": 30, "forty": 40, "fourty": 40, "fifty": 50, "sixty": 60, "seventy": 70,
    "eighty": 80, "ninety": 90,
}  # fmt: skip

OPENERS = listed(
    "ok okay k so right well hey hi hello um uh erm er oh ah ahh alright righto sorry please "
    "actually basically also hmm hm look listen anyway yo oops whoops argh ugh damn morning crockbell chef quick"
)
"""Said before the message itself; dropped when more follows."""

CLOSERS = [
    "please",
    "thanks",
    "cheers",
    "ta",
    "lol",
    "haha",
    "hahaha",
    "mate",
    "chef",
    "x",
    "xx",
    "xxx",
    "thankyou",
    "though",
    "anyway",
    "btw",
    "bud",
    "love",
]
"""Said after it."""

HARMLESS = frozenset(
    listed(
        # articles, pronouns and their like
        "a an the this that these those my our some all both each every it they them he she we i "
        "you me us his her its their one ones other another whole rest everything everyone "
        "everybody ourselves myself any anything something nothing no "
        # to be, to have, to do
        "is are am was were be being been has have had do did does doing get got gets "
        "can could would should will must may might let want need make made take took "
        # joining words
        "enough in on out around towards roughly of for to at by with from into onto under over about "
        "as and or then so but up "
        "down off if than too also only though anyway per like away back together "
        "because "
        # time
        "now just already finally today tonight yesterday since time times minute min hour long "
        "longer later late soon early next until due once twice first second third last again ago "
        "before after half past quarter morning evening afternoon night still yet way "
        # manner
        "quickly slowly properly nicely well really quite very fully completely totally lovely "
        "great good nice perfect cool fine beautiful beautifully gorgeous big little old new "
        "hungry poor bloody damn actually almost nearly pretty sure fairly probably maybe much "
        "many more bit lot lots bunch part bits here there "
        # and moving
        "go gone goes going went come came put putting popped pop stuck slid chucked shoved "
        "bunged tucked pulled lifted fished keep kept give gives gave giving "
        # done and begun
        "ready done finished finish complete completed start started starting began begun "
        "sorted ticked tick check mark log dusted job step "
        # talk
        "yes no ok okay right oh please thanks thank cheers lol haha hey hi hello chef mate guys "
        "yep yeah yup nope nah remind snooze ask ping nudge think guess know tell say said says "
        "told look looks feel feels seem seems taste tastes tasted tasting smell smells smelled "
        "what when why how which who not never extra "
        # the kitchen at large
        "kitchen hand hands thing things round batch set"
    )
)
"""Words that say nothing about which step is meant."""

EVERYDAY = frozenset(listed("put take took make made get got start started finish finished"))
"""Harmless even where a step of the plan is called so."""
