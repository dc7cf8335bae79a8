"""What cooks say that must never mark a step of the plan in sample_plan, whatever was asked before."""

from __future__ import annotations

NEVER = """
I might refresh the levain
going to refresh the levain now
I will press the cabbage later
gotta whisk the yolks
need to strain the chickpeas
should have rubbed the pork
would have strained the chickpeas
wish I had refreshed the levain
Tom will refresh the levain
Tom is going to mix the rye
told Tom to strain the chickpeas
asked Ines to press the cabbage
fed the dog
strained my back
strained the tea
I'm roasted
feeling drained
my phone is dead and drained
rubbed my eyes
rubbed sun cream on the kids
roast potatoes for lunch
baked a cake yesterday
rolled up my sleeves
pressed my shirts
whisked the kids off to school
washed the car
rinsed the plates
mixed a drink
mixed feelings about this
boiled the kettle
roasted a chicken last week
chilled on the sofa
chilled the wine
had a rest
sliced my finger
wrapped the presents
wrapped up warm
salted the path
salted caramel is great
broke a glass
started the car
started a new book
starting to rain
finished work
finished the wine
I'm so done
done my taxes
did the laundry
did the school run
the kids are done with lunch
dishes are done
homework's finished
laundry is in
milk is in the fridge
put the pizza in the oven
pizza's out of the oven
took the bins out
the dog is out
I'm out
we're out of flour
ran out of milk
the tv is on
the kettle's on
coffee is ready
I'm ready
ready when you are
fed up with the levain
love refreshing the levain
kneading is hard work
after mixing
once baked
when strained
if the chickpeas are creamy
if I strain the chickpeas
in case the levain is ready
as soon as the rye is out
until the rye is out
unless the pork is done
because the levain has peaked
chickpeas should be creamy
chickpeas must be done
chickpeas may be done
yolks ought to be whisked by now
the rye looks baked
seems the levain is ready
levain is almost ready
levain nearly puffed
half the chickpeas are creamy
some of the yolks are whisked
chickpeas are getting creamy
rye isn't out
chickpeas aren't in yet
never refreshed the levain
nobody pressed the cabbage
haven't strained
couldn't refresh the levain
can't press the cabbage
won't roast the pork
don't strain the chickpeas
do not skip the press
don't skip the labneh
never skip the squeezing
should I skip the labneh
what if I skip the squeezing
what happens if the custard splits
nothing burnt
don't burn the rye
almost burnt the rye
might drop the pork
burnt my finger
dropped my phone
dropped the kids at school
spilled my coffee
split the bill
did I refresh the levain
have I strained the chickpeas
is the rye out
are the chickpeas in
has Tom pressed the cabbage
refreshed the levain?
chickpeas strained?
all done?
rye in the oven?
chickpeas creamy yet
the yolks are whisked, right?
rye's out isn't it
do you think the pork is rested
tell me when the rye is baked
let me know when the pork is out
remind me to refresh the levain
don't forget the chickpeas are soaking
not sure if I refreshed the levain
can't remember if I strained the chickpeas
no idea if the pork is rested
maybe I refreshed the levain
I think I pressed the cabbage
hopefully the rye is baked by now
refresh the levain
strain the chickpeas
rub the pork
the levain
chickpeas
the rye smells amazing
the sauerkraut is cloudy
I bought the chickpeas
got the chickpeas from the shop
ordered the pork
the pork arrived
cleaned the crock
weighed the flour
checked the chickpeas
the cat sat on the rye
my sister refreshed her levain
my neighbour baked a rye
mum's levain died on her, not mine
last year I rubbed the pork on monday
usually I refresh the levain at 8
you said the rye is baked
you told me to refresh the levain
recipe says the chickpeas are done when creamy
in a dream I refreshed the levain
pretend I refreshed the levain
who refreshed the levain
why did you mark the rye done
will be done at 8
done in 10 min
rye in the oven at 9 tomorrow
straining the chickpeas at 9
refreshing the levain tomorrow
about to put the rye in
rye goes in at 5
rye going in soon
let me strain the chickpeas
let's start the rye
time to strain the chickpeas
waiting for the levain to peak
still soaking
still in the oven
halfway through whisking
one more squeeze to go
ok
ok great
yes please
well done you
half done
not done
isn't done
what's done
get it done
needs doing
to be done
when it's done
almost done
skip work
skip lunch
no bread left
""".strip().splitlines()
