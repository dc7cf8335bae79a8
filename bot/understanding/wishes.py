"""Patterns of what cooks want, and of what has gone otherwise: timers, quiet, another hour, left out, ruined."""

from __future__ import annotations

import re

from bot.understanding.patterns import BODY, MEAL, either, run_of, spoken

NOT = "(?:not|never|no|without)"

# ---------------------------------------------------------------- taking back, stopping

TAPPED = "(?:pressed|tapped|hit|clicked|said|sent|marked|ticked)"
UNDO = spoken(
    r"undo|un ?(?:mark|tick|check) (?:it|that|the|last)",
    r"(?:that|this|it|last one) (?:was|is) (?:wrong|a mistake|not right|incorrect|an? (?:accident|error|typo))",
    "scratch that|take (?:that|it|this) back|my (?:mistake|bad|error)|not what i (?:meant|said|wanted)",
    "did not mean (?:that|to|it|this)",
    "(?:wrong|mistaken|incorrect) (?:one|step|button|thing|message|answer|chat)",
    r"(?:ignore|forget|cancel|reverse|revert|delete) (?:that|what i (?:just )?said|my last|the last|last)",
    rf"{TAPPED} (?:\w+ )*(?:by (?:mistake|accident)|accidentally|too (?:early|soon))|accidentally {TAPPED}",
    "^(?:revert|go back|back up|oops|whoops|woops|oopsie|mistake|wrong|no that is wrong)$",
    "^(?:oops|whoops|woops)[ ,]+(?:not that|wrong|no|that was|sorry)|(?:go )?back (?:one|a step|up)$",
    "^(?:no )?wait (?:no|that is wrong|not that|wrong)|^not that(?: one)?$",
)
STOP_NOW = either("stop, abort, quit, end, halt, cease, terminate, unsubscribe")
ALL_OF_IT = run_of(
    "please, now, it, it all, this, everything, all, all of it, the lot, altogether, completely, right now, the plan"
    ", this plan, the meal, the whole (?:thing|plan|meal), crockbell, the bot, cooking, the cooking, dinner"
    ", the dinner, supper, here, for good"
)
STOP = spoken(
    rf"^(?:please )?(?:just |can you |can we |could you |let us )*{STOP_NOW}(?:$| {ALL_OF_IT}$)",
    "(?:cancel|scrap|abandon|call off|stop|end|forget|kill|drop|bin|delete|ditch|quit|abort|give up on) "
    "(?:the |this |our |my |all (?:of )?)?(?:the )?(?:whole |entire )?"
    rf"(?:plan|{MEAL}|thing|lot|cook|everything|all of it|it all|project|day|party|event|cooking)"
    r"\b(?! (?:timer|at|to))",
    rf"call (?:it|everything|the whole thing|(?:the )?{MEAL})(?: all)? off",
    rf"(?:(?:the )?{MEAL}|everything|party|it all|it) is (?:cancel\w*|off)$",
    r"(?:i|we) (?:give|am giving|are giving) up|^give up$",
    r"not (?:cooking|doing (?:this|the meal|dinner|any of this)) (?:any ?more|at all|after all)|unsubscribe",
)
NOT_STOP = spoken(
    "(?:do|did|will) not (?:stop|cancel|end|quit|forget|scrap|abandon|delete|give up)", "step", "component"
)

# ---------------------------------------------------------------- timers, quiet

CANCEL_TIMER = spoken(
    r"(?:cancel|stop|kill|clear|delete|remove|end|forget|ditch|scrap|drop|silence|reset|(?:turn|switch|shut) off"
    r"|dismiss)\b.*\btimers?",
    r"timers? off|no more timers?|do not need the (?:\w+ )*timer|turn the (?:\w+ )*timer off",
)
NOT_CANCEL_TIMER = spoken("(?:do|did) not (?:cancel|stop)")
TIMER_RANG = spoken(
    "timer (?:is |has |just |already )*(?:done|finished|over|rang|ringing|gone|went|up|beeped|beeping)"
)
TIMER = spoken(
    "^set (?:one|another|it|me one) (?:for|to) LEN",
    "timers?",
    "alarm",
    "(?:^|you )time (?:me )?(?:for )?LEN",
    "count ?down",
    "^time the",
)
NOT_TIMER = spoken(rf"{NOT} (?:\w+ )?(?:need|set|want|a timer)")
SO_LONG_FOR = spoken(r"^LEN (?:for|on) (?:the |my |some )?\w+", r"^LEN (?:\w+ )?\w+$")
NOT_SO_LONG_FOR = re.compile(
    r"\b(?:ago|late|behind|more|longer|done|left|LEN \w+ing|please|ok|now|later|yet|max|then|too|soon|tops|since|in"
    r"|on)$"
)

QUIET_NOW = either("quiet, silent, silence, mute, hush, shush, shh, ssh, dnd, shut up, zip it, pause, unmute")
PESTERING = either(
    r"messag\w*, text\w*, ping\w*, buzz\w*, notif\w*, nag\w*, bother\w*(?! with| to), disturb\w*, nudg\w*, beep\w*"
    r", wak\w*, ring\w*, reminders?, alerts?, bugging, pestering"
)
QUIET = spoken(
    rf"^(?:please )?(?:can you |could you |go |be |stay |keep |just )*{QUIET_NOW}"
    "(?: mode| please| now| for now| everything| notifications| messages| all| me| it| yourself)*"
    r"\b(?! (?:night|day|evening|one|here|kitchen|in here))",
    r"do not disturb|(?:go|going|off|heading|head|am|time) (?:\w+ )?to (?:bed|sleep)|in bed",
    r"good ?night|night night|nighty? ?night|nighty|nite|^night$|^gn$",
    r"going to (?:bed|sleep|crash|nap|have a nap|take a nap|lie down)|bed ?time|sleep ?time",
    "turning in|hitting the (?:sack|hay)",
    r"calling it a night|asleep|sleeping now|(?:having|taking) a (?:nap|lie down)|need (?:some )?sleep|sleep now"
    "|let me sleep",
    rf"(?:do not|stop|no more|quit|no|never) (?:\w+ ){{0,2}}{PESTERING}|leave me (?:alone|in peace)",
    "(?:mute|silence|pause|unmute) (?:it|this|me|notifications|everything|messages|the bot|nudges|reminders|alerts"
    "|until|for|DAY)",
    "(?:need|want|give me|some) (?:some |a bit of )?(?:quiet|peace|silence)|go quiet|keep it down",
)
NOT_QUIET = spoken(r"went (?:\w+ )?to bed late", "kids|children|baby")

# ---------------------------------------------------------------- the serving hour, lateness

MOVE = either("push, move, shift, bring, delay, postpone, change, put, make, set, reschedule, do, have")
GUESTS = "(?:guests|everyone|people|they|friends|family)"
SERVE = spoken(
    rf"{MEAL}\b.*\b(?:CLOCK|LEN (?:later|earlier|sooner|back|forward)|AHEAD|(?:back )?by LEN|DAY)",
    rf"{MOVE}\b.*\b{MEAL}\b.*\b(?:LEN|CLOCK|DAY|AHEAD)",
    rf"(?:CLOCK|LEN|DAY)\b.*\b(?:for|to) {MEAL}|DAY {MEAL}",
    rf"(?:delay|postpone|push back|put off|bring forward|move)\b.*\b{MEAL}",
    "make it (?:for |at |about |DAY )*(?:CLOCK|DAY)",
    rf"{GUESTS} (?:\w+ ){{0,3}}(?:arriv\w+|com(?:e|ing)|here|show\w* up|turn\w* up) (?:\w+ ){{0,3}}"
    "(?:CLOCK|LEN later|LEN earlier)",
    "(?:push|move|shift|bring) (?:it|everything|things|it all|the whole thing|this|that) (?:all )?"
    r"(?:to|back|forwards?|out|on|until|by)\b.*\b(?:CLOCK|LEN|DAY)",
    "^(?:CLOCK|DAY(?: PART)?) instead|instead of (?:CLOCK|DAY)",
)
NOT_SERVE = spoken(
    "(?:remind|nudge|ping) me|LEN (?:late|behind)|running|timer|buy|plan for|show|until after|not tonight",
    rf"(?:ate|had) {MEAL}|(?:after|before) (?:lunch|dinner|supper|breakfast)",
)
LATE = spoken(
    r"(?:running|run|am|are|is|be|being|bit|so|very|really|about|already|LEN|home|get|all) (?:\w+ ){0,2}?"
    "(?:late|behind|delayed)",
    r"LEN (?:\w+ )?(?:late|behind|delay|over ?due)|^(?:late|delayed|behind)",
    "(?:late|behind|delayed|held up|overrun|overrunning|over) (?:by )?(?:about )?LEN",
    "behind (?:schedule|time|the plan|plan|on)|(?:stuck|caught|held up|delayed) (?:in|at|on|by|behind|with)|held up",
    r"running over|(?:lost|losing) LEN|set (?:me|us) back LEN",
    r"(?:got|fallen|fell|falling|slipped|slipping) (?:\w+ )?behind",
)
NOT_LATE = spoken(
    r"not (?:\w+ )?(?:late|behind)", "(?:so|too|how) late (?:to|for|in)", "never (?:too )?late", "what if",
    "(?:left|lag) behind",
)  # fmt: skip

# ---------------------------------------------------------------- notes

DEGREES = r"degrees?(?: c| f| celsius| fahrenheit)?|celsius|fahrenheit|[cf]"
SOMEWHERE = either(
    "kitchen, room, fridge, cellar, larder, garage, pantry, cupboard, dough, water, oil, fat, core, oven, water bath"
    ", proofer, temperature, starter, batter, brine, jar"
)
READING = re.compile(
    r"\bph\b\W*(?:\w+ ){0,5}?\d|\d ph\b|\b(?:it is|its) -?\d+ (?:in (?:the|here)|degrees)\b"
    rf"|-?\d+(?:[.,]\d+)? ?(?:{DEGREES})\b"
    rf"|\b{SOMEWHERE}(?: temperature)? (?:is |at |reads |now |reading |around |about |= ?|was )+-?\d+(?:[.,]\d+)?"
    r"(?! ?(?:min|hour|h|day|sec|am|pm|:|\.\d\d|oclock|%|g\b|kg|ml|l\b))(?=$|[ ,.])"
)
NOT_READING = spoken(
    r"timer|how (?:much|many)|when|set (?:the )?oven",
    r"(?:oven|fridge|dough|water|oil|fat|starter|batter|brine|jar)\b (?:\w+ )*at \d{1,2}$",
)
BOUGHT = spoken(
    r"^(?:(?:i|we) )?(?:have |just |all )*(?:bought|got) (?:it all|everything|all of it|the lot|(?:all )?the shopping)"
    r"(?: now| already| today| in| home| at home| in the house| we need| i need)*$",
    r"^(?:the )?shopping (?:is |all )*done$",
    r"^(?:(?:i|we) )?(?:have )?(?:did|done|been) (?:the )?shopping$",
)
"""Whatever was to be bought is there."""

WRITE_DOWN = re.compile(
    r"^(?:note|nb|write (?:this |that |it )?down|log|record|remember|jot(?: down)?|(?:make|add|take) a note"
    r"|for (?:the )?(?:next time|record))\b(?!.* done$)(?! (?:to|the .* as)\b)"
)

# ---------------------------------------------------------------- gone wrong

RUINED = spoken(
    "ruined|burnt|burned|burn|curdled|separated|collapsed|exploded|spilled|spilt|smashed|scorched|charred|incinerated",
    "destroyed|wrecked|inedible|unusable|unsalvageable|binned|in the (?:bin|trash|garbage)|dropped",
    r"(?:is|has|have|got|just|it|they|\w+s?) split\b(?! the| in(?:to)?\b| it| them)",
    r"(?:went|gone|gone all|going|go) (?:\w+ )?(?:wrong|to pot|pear shaped|haywire)",
    r"(?:chucked|thrown|threw|tossed) (?:\w+ ){0,4}(?:out|away|in the (?:bin|trash))",
    r"(?:is|are|has|have|looks?) (?:dead|died|died on me|cracked|broken|shattered|toast|knackered|screwed|mush|mushy"
    "|a (?:disaster|write off|goner|mess)|beyond saving|no good|a lost cause|past saving)",
    "(?:starter|culture) died|broke|cracked|shattered|knocked over|knocked|tipped over|boiled dry|boiled over|fell",
    r"over ?cooked|over ?proofed|over ?proved|oversalted|(?:messed|screwed|cocked|mucked|balls ?ed) (?:\w+ ){0,3}up",
    "(?:cat|dog|kids|kid|someone|he|she|they) (?:just )?(?:ate|has eaten|have eaten|nicked|stole|got at|got into)",
)
NOT_RUINED = spoken(
    rf"(?:{NOT}|nothing|none) (?:\w+ )?(?:ruin\w*|burn\w*|split|curdle\w*|drop\w*|broken?|crack\w*|separat\w*"
    r"|collapse\w*|overcook\w*"
    r"|spil\w*)",
    r"(?:almost|nearly|about to|might|could|would|going to|if) (?:\w+ )?(?:burn\w*|drop\w*|split|ruin\w*|fell)",
    "dropped (?:off|by|in|round)|burner|myself",
    BODY,
)
BURNT = spoken("burnt|burned|scorched|charred|over ?cooked|boiled")

# ---------------------------------------------------------------- left out

SKIP = spoken(
    r"skip(?:ping|ped)?|(?:leave|leaving|left) (?:\w+ ){0,4}out|leave out|omit(?:ting|ted)?",
    "(?:scrap(?:ping|ped)?|ditch(?:ing|ed)?|drop|dropping|cut out|bin off|forget about|cancel|lose|miss out)"
    " (?:the|this|that|it|them|on the)",
    r"forget the|give (?:\w+ ){1,4}a miss|go(?:ing)? without|without the|miss (?:this|that) one",
    "(?:do|let us|will|going to) not (?:bother|do|make|be doing|be making)(?: with)?",
    "not (?:bothering|doing|making|having)",
    "(?:do|does) not need (?:the|any|to do the|to make the)|no need (?:for|to)|can not be (?:bothered|arsed)",
    "pass on (?:the|this|it|that)|^pass$",
    r"^(?:we (?:are )?)?(?:having |doing |with )?no (?!time|luck|chance|need|more|messages?|problem|thanks|idea|one"
    r"|energy|rush|hurry)(?=\w+ (?:this time|after all|then|DAY)\b)",
)
LATER_THAN_NOW = "(?:now|yet|tonight|until|DAY|PART|right now|so|well|too|for|before|VAGUE|at|CLOCK)"
NOT_SKIP = spoken(
    rf"{NOT} (?:\w+ ){{0,2}}(?:skip\w*|drop\w*|scrap\w*|miss\w*|ditch\w*|leave out|forget\w*)|do not cancel",
    "skip (?:ahead|to|forward)|skipping rope",
    rf"not doing (?:it |that |this )?{LATER_THAN_NOW}",
    rf"not (?:\w+ )?(?:do|make) (?:it|that|this|them) {LATER_THAN_NOW}",
    r"not bother\w* (?:now|yet)",
)
LEAVING_OUT = spoken(
    "skip(?:ping|ped)?|leave|leaving|left|scrap(?:ping|ped)?|ditch(?:ing|ed)?|drop(?:ping)?|omit(?:ting|ted)?|forget",
    "bother(?:ing|ed)?|miss|bin off|cancel|lose|cut out|pass(?: on)?|making|having|needed|without|arsed|time",
)
"""The words that say that something is left out, and not what."""

# ---------------------------------------------------------------- put off

A_TIME = "(?:at CLOCK|until CLOCK|by CLOCK|CLOCK|AHEAD|LEN|DAY|PART|VAGUE|later)"
REMIND = spoken(
    "(?:remind|nudge|ping|poke|prod|tell|ask|buzz|wake|warn|alert|call|shout at|chase|bug|prompt|come back to|try"
    rf"|check back|check in|check|notify|message|text) (?:me |with me |again |back )*.*\b{A_TIME}",
    r"remind me|ask (?:me )?again|try (?:me )?again|snooze|defer|put (?:it|this|that|them) off",
    "postpone (?:it|this|that|the)",
)
NOT_REMIND = spoken(
    r"when\b (?!i\b)", "remind me (?:what|how|why|where|who|which)", "(?:did|do) you remind", "told"
)
LONGER = spoken(
    "(?:needs?|needing|wants?|requires?|could (?:do with|use)|can use|deserves?|takes?|taking|be"
    r"|going to (?:need|take)) (?:\w+ ){0,4}?(?:more|longer|another|extra|LEN|VAGUE|bit longer|bit more)",
    r"(?:give|gives|giving|gave|leave|leaving|let|allow|keep) (?:\w+ ){1,6}?"
    "(?:LEN|longer|more(?: time)?|VAGUE|going|a chance|another)",
    "(?:another|extra|more|a further) LEN|LEN (?:more|longer|extra|left|to go|until|or so more|remaining)",
    rf"(?:leave|keep|put) (?:\w+ ){{1,3}}(?:until|for) (?:the )?{A_TIME}",
    "a (?:bit|little|while|touch|tad) (?:longer|more)|more time|longer|still (?:LEN|needs?|wants?|has|have|got)",
    r"not (?:\w+ )?ready (?:for|until)",
)
NOT_LONGER = spoken(
    r"no longer|as long|one more time|took (?:\w+ )*longer",
    r"(?:done|finished|drained|fed) (?:\w+ )*(?:after|for) LEN$",
    r"(?:more|extra) (?:\w+ )?(?:salt|flour|water|milk|sugar|oil|butter)",
)
