"""Patterns of what cooks ask: what is next, when, why, how much, what to buy, whether it is safe."""

from __future__ import annotations

from bot.understanding.patterns import MEAL, either, spoken, whole

ANY_DAY = "(?:DAY|PART)"

SAFE = spoken(
    r"(?:un)?safe(?:ly|ty)?|poison\w*|botul\w*|salmonella|listeria|bacteria|food code|allerg\w+|danger\w*",
    r"(?:gone|go|went|going) (?:off|bad)|mou?ld(?:y|s)?|furry|fuzzy?|slimy|slime|rancid|rotten|spoil(?:ed|t)?|bulg\w+",
    r"(?:make|makes|made|making|get|be|feel) (?:\w+ )?(?:sick|ill)|pink in|undercooked|(?:in)?edible",
    r"smells? (?:\w+ )?(?:off|bad|funny|weird|rotten|wrong|strange|rank|foul|fishy)",
    r"(?:sat|sitting|sits|stood|standing|been|lying|stayed|forgotten) (?:\w+ )?out"
    r"(?! of the oven\b(?! for| since| all))",
    r"left (?:\w+ ){0,4}out(?= (?:all|for|on|LEN|since|from|over|too|in|by|of the fridge|at|DAY|CLOCK|\w*night))",
    r"(?<!\bi )(?<!\bwe )(?:(?:is|are|was|were) out for LEN|(?:was|were) out since)",
    r"after LEN (?:out|on the (?:counter|side|worktop|table)|(?:at|in) room temp\w*)\b",
    r"(?:can|could|may|should|must) (?:\w+ ){1,5}?(?:stand|stay|sit|wait|remain|be left|be kept) (?:\w+ )?"
    r"(?:out\b|on the (?:counter|side|worktop|bench|table)|(?:at|in) room temp\w*)",
    r"(?:can|could|may|should) (?:i|we|you) (?:put|place) (?:\w+ ){0,4}(?:hot|warm) (?:\w+ ){0,3}?in(?:to)? the "
    r"(?:fridge|freezer)",
    r"(?:what|which) ph\b|ph (?:should|must|does|limit|is right)",
    r"(?:left|been|was|forgot|forgotten) (?:\w+ ){0,4}on the (?:stove|hob|cooker) (?:all |over ?)night",
    r"(?:is|was|were|are|be) out (?:all|over) ?(?:night|day|DAY|PART)|out over ?night",
    r"left (?:it|them|the \w+(?: \w+)?) out$",
    r"(?:been|sat|sitting|stood|standing|left|lying|is|are|was|were) (?:\w+ ){0,4}"
    r"(?:(?:on|at) the (?:counter|side|worktop|bench|table)|(?:at|in) room temp\w*|unrefrigerated)"
    r"(?= (?:all|for|LEN|since|over|DAY|PART|AGO|\w*night))",
    r"(?:ok|okay|fine|alright|good) to (?:still )?(?:eat|serve|use|keep|taste)",
    r"still (?:ok|okay|fine|good|edible)",
    r"(?:can|could|should|may) (?:i|we|they|you) (?:still )?(?:eat|serve|use|keep|taste|reuse|refreeze) "
    r"(?!at\b|by\b|on\b|in\b|an\b|me\b|us\b|if\b|CLOCK|DAY|AHEAD|LEN|PART|VAGUE|a (?:bit|little)|then\b|there|when"
    r"|him|her|later|earlier|sooner|dinner|lunch|supper|now|out|instead|around|about|half|early|late|until"
    r"|together|more|less|something|here|after|before)\w+\b(?! (?:at|by|AHEAD|for|instead|CLOCK|LEN|DAY)\b)",
)
KEEPS = spoken(r"(?:keep|store) (?:\w+ ){1,5}?for (?:\w+ ){1,2}?(?:days?|weeks?|months?)")
NOT_SAFE = spoken("safe (?:trip|journey)", "(?:eat|serve) (?:at|by) CLOCK", "is inedible")

SHOPPING = spoken(
    r"(?:shopping|grocer(?:y|ies)|shops? list)(?!.* (?:is )?(?:done|finished|sorted)\b)",
    r"(?:what|which|anything|need|things|list|ingredients|stuff|have)\b.*\b"
    r"(?:buy|purchase|get (?:at|from|in) the|pick up|order in|stock up"
    r"|(?:from|at) the (?:shops?|stores?|supermarket|market|butcher|grocer))",
    r"ingredients?\b.*\b(?:need|list|for)|buy list|what (?:ingredients|groceries)",
    "list (?:for|at|from) (?:the )?(?:butcher|grocer|market|supermarket|shops?|stores?|fishmonger)",
    r"what (?:do|should|must|shall) (?:i|we) (?:need to |have to )?get(?: in)?(?: for DAY| DAY)?$",
    r"going to the (?:shops?|stores?|supermarket|market|butcher)",
    r"do (?:i|we) (?:need|have) (?:to )?(?:buy|get) (?:any|some|more)",
    r"^(?:shop|groceries|supermarket|to buy)(?: list)?(?: DAY| for DAY)?$",
)

WHEN = spoken(
    r"how (?:much|many) (?:more )?(?:longer|time|hour|min|day|week)|how long|how soon|until when|since when|by when",
    r"when (?:is|are|do|does|did|will|can|should|shall|was|were|would|am|must|have|has|to)",
    r"(?:at )?what (?:time|hour|day)",
)
NOT_WHEN = spoken(r"when i\b", r"^why")
TIMER_LEFT = spoken(r"(?:how|what|is|when|which)\b.*\btimers?")
SETS_A_TIMER = spoken("set|start|can you time|put")
ABOUT_THE_MEAL = spoken(rf"^(?:is|are|am|will|does|do|did|what|when|where|how|has|have|was)\b.*\b{MEAL}")
NOT_ABOUT_THE_MEAL = spoken("what (?:if|about)", "is (?:it )?(?:ok|okay|possible)", "safe", "to do")

HOW_MUCH = spoken(
    r"how (?:much|many)|amounts? (?:of|for)|quantit(?:y|ies)",
    r"what (?:weight|quantity|amount|percentage|percent|ratio)",
    r"^(?:what|how) .*\b(?:grams|weigh|percentage|ratio|quantity)",
    r"for \d+(?:[.,]\d+)? ?(?:k?g|grams?|kilos?|kgs|lbs?|oz|ml|l|litres?|pounds?)",
)
NOT_HOW_MUCH = spoken(r"how much (?:i |you )?(?:love|like|hate)")

WHY = spoken(
    "why", "how come", "what is the (?:reason|point)", "what (?:is it )?for$", "reason for", "explain"
)
NOT_WHY = spoken("that is why")

DO_NOW = either(
    "is, comes, should happen, do (?:i|we) do, should (?:i|we) (?:do|be doing), am i doing, are we doing"
    ", must (?:i|we) do, (?:am i|are we) (?:supposed|meant|expected) to (?:do|be doing), shall (?:i|we) do"
    ", needs? doing, happens, to do, can i do, do you need, is to do, happen, goes"
)
NEXT = spoken(
    r"^(?:what|whats|who|anything|something|and|so|tell me|show me|which|where)\b.*\bnext(?! (?:week|month|year|time))",
    r"^(?:ok )?next(?: one| step| up| thing| please| task| job| thing to do)*$",
    r"^(?:so |and |ok |right |yes |done )*what (?:now|then|else)|^now what",
    rf"what {DO_NOW}(?: right)?(?: now| next| first| then| on| after(?: that| this)?| at the moment)*$",
    r"what (?:should|must|can|do|shall|am|could) (?:i|we) (?:\w+ ){0,3}"
    r"(?:do|doing|get on with|getting on with|tackle|work on)(?: next| now| first| right now)*$",
    "(?:up|do|doing|comes|coming|happens|happening|move) next|next (?:job|task|step|thing|up)",
    "^(?:what is |the )?(?:status|update)(?: report| please| update)?$",
    r"where (?:are|am|were) (?:we|i)|what (?:is )?(?:going|happening)(?: on)? now",
    r"^(?:which |what |the |my )?(?:clocks? )?(?:is |are )?running(?: now)?$",
    r"^(?:which |the |my |show )?(?:me )?(?:the )?clocks?$",
    r"^(?:anything|something|nothing) (?:else|for me|to do|now|needed|left"
    r"|(?:i|we) (?:should|need to|can|must|have to|could) (?:be )?(?:do|doing))\b(?!.*\bDAY\b)",
    r"(?:is|was) there (?:anything|something)(?: else)?(?: for me)?"
    r"(?: to do| (?:i|we) (?:should|need to|have to|can) do)?(?: now| right now)?$",
    r"catch me up|what (?:did|have) i (?:miss|forget|forgotten)|what is (?:up|left)(?: now| to do)?$",
    r"do i (?:need|have) to do anything(?: else)?(?: now| right now)?$",
    r"^what do (?:you want|i need)(?: me)? to do(?: now)?$",
    "(?:free|off duty|spare time) (?:now|until|for|right now)",
)
NOT_NEXT = spoken(r"DAY\b(?!.*\bnext\b)", "PART")

A_LIST = either(
    "plan, schedule, list, jobs, tasks, agenda, timetable, to ?do(?: list)?, steps, rundown, card, overview, summary"
)
DAY = spoken(
    r"(?:what|whats|anything|something|nothing|which|much|show|list|tell|give|see|do i|do we|have i|am i|are we"
    rf"|is there|how|(?:run|talk|walk) me through)\b.*\b(?:{ANY_DAY}|before bed|the weekend|weekend|the day|my day)",
    rf"{A_LIST} (?:for |on |of )?(?:{ANY_DAY}|the day)",
    rf"DAY(?: is)? {A_LIST}",
    r"^(?:and |so |ok |what about |how about )?(?:for )?(?:DAY|the day)(?: PART)?$",
    "my day|day card|(?:is|how is|how busy is|will) DAY",
)
NOT_DAY = spoken("remind(?! me what)", "can not", "until", "later", "not", "buy")

PLAN = spoken(
    r"(?:show|see|send|give|list|view|get|print|whole|full|entire|complete|overall|what is|look at|share|post|display"
    r"|read)\b.*\b(?:plan|schedule|timetable|timeline|time line|list of steps|steps|overview|everything|all (?:of )?it"
    r"|the lot|the whole thing|calendar|picture|chart|diagram)",
    r"^(?:the |my |our )?(?:whole |full |entire |complete |big )?(?:plan|schedule|timetable|timeline|overview|calendar"
    r"|everything|whole thing|all steps|picture)(?: please| again)*$",
    r"what (?:is|are) (?:all )?(?:the|left|still|remaining)\b.*\b(?:plan|steps|left|to do|remaining|outstanding)",
    r"what (?:have (?:i|we)|is) (?:\w+ )?(?:done|left)(?: so far)?$",
    r"how (?:are|is) (?:we|it|things|everything|the plan) (?:doing|going|looking)",
)
NOT_PLAN = spoken("(?:is|was|that is) (?:everything|the lot)$", "change of plan", "plan [bc]")

HELP = spoken(
    "what can (?:you|i) (?:do|say|ask|type|tell|write)|what do i (?:say|type|write)",
    "what (?:are )?(?:the|your) commands",
    r"how (?:do|does|can) (?:i|this|you|it) (?:\w+ )?(?:use|work|talk)",
    "how (?:do|can) i (?:tell|talk to|ask|stop|cancel|change)",
    "what commands|who are you|what are you|i am (?:lost|confused)",
)
HELP_ALONE = whole(
    either(
        "help, help me, help please, halp, i need help, please help, commands?, menu, options, instructions, how to"
        ", info, manual, what, huh"
    )
)
