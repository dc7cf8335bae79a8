"""Whether a timetable is a bet, and on what: dynamic controllability of the network that it induces.

`stnu` is the network, `controllability` the check and `dispatch` its executor. `spots`, `openings`, `pieces`, `ends`,
`layout` and `order` make the network of a timetable, `bet` asks for its executor, `executor` runs it against a draw,
`rules` judges the run, and `answer` says what breaks it.
"""

from scheduler.domain.promise.answer import AS_MANY as AS_MANY
from scheduler.domain.promise.answer import Break as Break
from scheduler.domain.promise.answer import Lasting as Lasting
from scheduler.domain.promise.answer import Promise as Promise
from scheduler.domain.promise.answer import break_by as break_by
from scheduler.domain.promise.answer import breaks_of as breaks_of
from scheduler.domain.promise.answer import promise as promise
from scheduler.domain.promise.answer import survivor as survivor
from scheduler.domain.promise.bet import Bet as Bet
from scheduler.domain.promise.executor import Done as Done
from scheduler.domain.promise.executor import Draw as Draw
from scheduler.domain.promise.executor import Executor as Executor
from scheduler.domain.promise.rules import Trouble as Trouble
