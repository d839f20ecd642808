# On the job: the work step by step, counts, stopping, and what turned out different.

## A step

work-start = Let's go. There are { $steps } steps. Say “done” after each, and take as many days as you like: I keep your place.
work-step = Step { $number } of { $of }.
work-step-front = Step { $number } of { $of }, front slope.
work-step-back = Step { $number } of { $of }, back slope.
work-takes = About { $minutes } minutes, { $hands ->
        [one] one person
        [2] two people
       *[other] { $hands } people
    }.
work-next = After this: { $what }
work-next-nothing = Nothing comes after this: it is the last step.
work-ticked = I took that as: step { $number } is done. If it was not, say “back”.
work-done-between = What comes in between is done already.
work-not-yet = That comes later. First this one:
work-finished = That was the last step. Your roof is on. Look at it again after the first rain and the first strong wind.

work-deck-repair = Go over the { $deck } deck from a ladder or platform. Screw down loose boards, cut out soft ones and put in new ones as thick. Every joint lands on a timber.
work-purlin-first =
    Fit purlin { $number } of { $of }, the lowest. Its middle is { $at } up from the eaves edge.
    Screw it to every timber below: { $screws ->
        [one] one screw
       *[other] { $screws } screws
    }.
work-purlin =
    Fit purlin { $number } of { $of }. Its middle is { $at } up from the eaves edge, { $gap } above the one below.
    Screw it to every timber below: { $screws ->
        [one] one screw
       *[other] { $screws } screws
    }.
work-purlin-over-deck-first =
    Lay purlin { $number } of { $of } on the deck, the lowest. Its middle is { $at } up from the eaves edge.
    Screw both ends down at the verges from outside, then put { $screw } screws up through the deck from inside: { $screws } in all.
work-purlin-over-deck =
    Lay purlin { $number } of { $of } on the deck. Its middle is { $at } up from the eaves edge, { $gap } above the one below.
    Screw both ends down at the verges from outside, then put { $screw } screws up through the deck from inside: { $screws } in all.
work-taper =
    The roof is out of square: its top edge stands { $lean } to the { $way }. Lay every sheet square to the eaves all the same. The lean then shows only at the two verges, and the last column takes it up.

    The first sheet passes the barge board by { $near_eaves } at the eaves and { $near_top } at the top. Measured from that barge board, the free edge of { $columns }.{ $staggered ->
        [0] {""}
       *[other] {" "}In courses two, four and so on the free edge of { $shifted }.
    }

    At the far verge the last corrugation passes the board by { $far_eaves } at the eaves and { $far_top } at the top. Trim it along the board: the cut runs { $angle } off square. { $wider ->
        [0] The sheets of your plan reach.
       *[other] There the sheets fall short by { $short } at the wall: close the gap under a wider flashing.
    } Where a wall stands, cut off what runs into it.{ $worked_out ->
        [0] {""}
       *[other] {" "}I take it that the end walls run straight under both slopes. Measure this slope's diagonals: they should be { $a } and { $b }, the one from the lower left corner first. If they are not, ask a person before you lay.
    }
work-taper-column = column { $number } is { $eaves } along the eaves and { $top } along the top
work-cut =
    Cut { $sheets ->
        [one] sheet { $numbers }
       *[other] sheets { $numbers }
    }, { $cuts ->
        [one] one cut
       *[other] { $cuts } cuts
    }, on the ground and on a firm bench: drawing 5 and the cut list show where. Write its number and letter on each piece.
work-first-course =
    Lay the rest of the first course: { $sheets ->
        [one] one piece
       *[other] { $sheets } pieces
    }, { $length } long: { $marks }. Each laps the one before by { $side_lap ->
        [one] one corrugation
       *[other] { $side_lap } corrugations
    }. Hold each with one nail as you go.
work-next-course =
    Lay course { $course }: { $sheets ->
        [one] one piece
       *[other] { $sheets } pieces
    }, { $length } long: { $marks }. The lower edge is { $from } up from the eaves edge, so it laps the course below by { $end_lap }. Side laps are { $side_lap ->
        [one] one corrugation
       *[other] { $side_lap } corrugations
    }. Hold each with one nail as you go.
work-side-laps =
    Look over the laps of course { $course }. Side by side, each sheet covers { $side_lap ->
        [one] one corrugation
       *[other] { $side_lap } corrugations
    } of the last. All lie flat, and run straight up the slope.
work-laps =
    Look over the laps of course { $course }. It covers the course below by { $end_lap } or more, all along. Side by side, each sheet covers { $side_lap ->
        [one] one corrugation
       *[other] { $side_lap } corrugations
    } of the last.
work-nails-eaves = Nail the eaves line, { $at } up: { $nails } nails of { $nail }, one in the top of every corrugation, and none in a hollow.
work-nails-end-lap = Nail the lap line, { $at } up: { $nails } nails of { $nail }, in the tops of the corrugations, through both courses.
work-nails-between = Nail the line { $at } up: { $nails } nails of { $nail }, in the tops, spaced as the nailing pattern shows.
work-nails-top = Nail the top line, { $at } up: { $nails } nails of { $nail }, in the tops of the corrugations.
work-pieces =
    { $what } It takes { $pieces ->
        [one] one piece
       *[other] { $pieces } pieces
    }{ $nails ->
        [0] .
       *[other] {" "}and { $nails } nails.
    }
work-ridge =
    Mark the ridge line on the sheets. Fit { $pieces ->
        [one] the ridge piece
       *[other] { $pieces } ridge pieces, each lapping the next by { $lap }
    }. Nail both wings into the top lines: { $nails } nails in all. Trim the lower lapped piece for looks.

work-help =
    On the job you can say:

    • “done” – the step is done, and the next one comes
    • “where was I?” and “how many are left?”
    • “I have used 6 sheets”, or “I have 3 sheets left” – I compare it with the plan
    • “can I pause?”, “it's raining”, “wind is getting up” – what to make safe
    • “cut one wrong”, “it's 12 degrees really”, “out of square by 30” – what follows, before anything changes
    • “undo” – take the last thing back
    • “show the plan”, “cut list”, “person” – as before

## What to check before the next step

work-check-get-ready = Before you go on: is the ladder tied or held, and the platform firm?
work-check-inspect = Before you go on: is every timber sound? If one is soft or cracked, say so and stop here.
work-check-strip = Before you go on: are all old nails out, and is the roof swept?
work-check-deck-repair = Before you go on: does no board give or rattle?
work-check-deck = Before you go on: does every board end land on a timber?
work-check-underlay = Before you go on: does every strip lap the one below, taped, with no tear?
work-check-purlin = Before you go on: measure again at both ends. Is it the same?
work-check-lines = Before you go on: measure the top line at both ends. Is it the same?
work-check-insulation = Before you go on: do the boards lie below the tops of the purlins?
work-check-eaves-filler = Before you go on: does the filler run to both ends?
work-check-square = Before you go on: measure both diagonals of the slope too. If they differ, tell me both.
work-check-taper = Before you go on: snap a line for each column from its lower mark to its upper one.
work-check-offcuts = Before you go on: count the pieces for the back slope. Has each its number and letter?
work-check-cut = Before you go on: measure every piece you cut. Has each its number and letter?
work-check-first-sheet = Before you go on: measure both overhangs again. A small slip here grows with every sheet.
work-check-course = Before you go on: hold a string along the lower edges. Are they in line?
work-check-laps = Before you go on: is every lap as wide as that? Lay a short one again now.
work-check-nails = Before you go on: does every head sit snug, with no sheet pressed flat?
work-check-wall-side = Before you go on: does every piece lap the one below it?
work-check-wall-top = Before you go on: is it tucked in or sealed at the wall?
work-check-verge = Before you go on: does the verge line look straight from the ground?
work-check-top-edge = Before you go on: do the pieces lie close on the sheets?
work-check-ridge = Before you go on: does the ridge look straight from the ground?
work-check-finials = Before you go on: are both ends closed?
work-check-last-look = When all is well, say “done” once more.

## What to mind

work-mind-ladder = Mind: work from a tied ladder or a platform, and don't lean out.
work-mind-look = Mind: look from the ladder or platform. Don't step on the roof.
work-mind-strip = Mind: don't step on the old covering. Pull each sheet from the side, and let nobody stand below. If it might hold asbestos, stop and tell me.
work-mind-fragile = Mind: don't step on a deck you are not sure of. Lie boards across the timbers.
work-mind-carry = Mind: sheets and boards catch the wind. Carry them two and two, and not at all when it blows.
work-mind-slippery = Mind: the membrane is slippery. Work from the ladder or platform.
work-mind-dust = Mind: wear goggles. Look for cables below before you drill.
work-mind-nail = Mind: wear goggles. Don't stand on the sheets: lie boards across the purlins.
work-mind-cut = Mind: goggles and gloves. Keep the blade oiled, hold the sheet down along the cut, and keep fingers behind the blade.
work-mind-reach = Mind: the edge is where people fall. Move the ladder, don't reach.
work-mind-ridge = Mind: work from a platform or roof ladder. Don't sit or stand on the ridge.
work-mind-lift = Mind: a sheet that is coming off catches the wind. Two people, and only on a still day.

## Where the work stands

work-left = { $left } of { $of } steps are left, about { $hours ->
        [one] one hour
       *[other] { $hours } hours
    } of work. They still take:
work-left-goods = { $goods }: { $count }
work-goods-sheets = sheets
work-goods-nails = nails
work-goods-sheet-screws = screws for the sheets
work-goods-deck-screws = deck screws
work-goods-purlin-screws = purlin screws
work-goods-ridge = ridge pieces
work-goods-top-edge = top edge pieces
work-goods-verge = verge pieces
work-goods-wall-top = flashing pieces for the top wall
work-goods-wall-side = flashing pieces for the side wall
work-goods-eaves-filler = eaves fillers

work-count-enough = { $goods }: { $used } used, { $planned } in the plan so far. You have { $left } and need { $needed } more. That is enough.
work-count-likely-short = { $goods }: { $used } used, { $planned } in the plan so far. You have { $left } and need { $needed } more. If as many go to waste again, you will run out: buy { $buy } more now.
work-count-short = { $goods }: { $used } used, { $planned } in the plan so far. You have { $left } and need { $needed } more. Buy { $buy } more before you go on.
work-count-short-and-likely = { $goods }: { $used } used, { $planned } in the plan so far. You have { $left } and need { $needed } more. Buy { $buy } more before you go on, and { $more } besides if as many go to waste again.

## Stopping

work-safe-pause = You can stop at any time. Before you come down, leave the roof so that it can stand a night of wind and rain:
work-safe-wet = Come down now, and stay down until the roof is dry. Wet sheets and boards are slippery.
work-safe-wind = Come down now, and handle no sheets. Don't go up again until the wind has dropped.
work-safe-nail =
    { $count ->
        [one] One line under your sheets is
       *[other] { $count } lines under your sheets are
    } not nailed yet: { $lines } up. Nail there first, or take the loose sheets down.
work-safe-keep-clear = Sheets are not nailed yet at { $lines } up, and wind may lift them there. Keep everybody away from below. Nail them first thing when it is calm and dry.
work-safe-cover = Cover the open part with a tarpaulin, tied down or held with battens.
work-safe-cover-wet = If you can reach from the ladder or platform, pull a tarpaulin over the open part. If not, put buckets inside.
work-safe-cover-wind = Leave the open part open. A tarpaulin in the wind can pull you off.
work-safe-top = The top edge is still open. Cover it with a strip of tarpaulin under battens.
work-safe-top-later = The top edge is still open, and lets some rain in. That does less harm than a fall: close it when it is calm and dry.
work-safe-stack = On the ground, tie down or weigh down the stack of sheets and all loose timber.
work-safe-ladder = Take the ladder away, or lash a board over its rungs, so that no child climbs up.
work-safe-back = I keep your place. Say “where was I” when you go on.
work-after-pause = Welcome back. Look over the roof from the ladder first: is all as you left it?
work-after-wet = Welcome back. Is the roof dry? Wet sheets and boards are slippery. Look it over from the ladder first.
work-after-wind = Welcome back. Has the wind dropped? Look over every sheet and nail from the ladder first: what the wind has lifted must be nailed again.

## Something is different

work-problem = What is it?
work-tell = I'll say what follows before anything changes.
work-tell-measure = Tell me what it is really, such as “it's 12 degrees really” or “the roof is 3.1 m long”.
work-tell-short = Tell me what you have left or have used, such as “I have 3 sheets left”.
work-measure-diagonals = Measure both diagonals of the slope, corner to corner, from the ladder at each end. Tell me both, the one from the lower left corner first.
work-which-way = Which way does the top edge stand, seen from the eaves?
work-leans-left = To the left
work-leans-right = To the right
work-change-ask-facts = Change { $facts }? This follows:
work-change-fact = { $fact } from { $old } to { $value }
work-change-new-fact = { $fact } to { $value }
work-change = { $facts }. This follows:
work-suppose = With { $facts }, this would follow:
work-suppose-fact = { $fact } { $value } instead of { $old }
work-suppose-new-fact = { $fact } { $value }
work-suppose-ask = That was only worked out: nothing is changed. Keep it? Say “yes” to go by it, or “no” to leave it.
work-suppose-refused = So it would not do.
work-change-book = The rules I go by have changed since I made your plan. Your plan stays unless you want the new one. With the new one:
work-change-spoilt = { $sheets ->
        [one] One sheet spoilt
       *[other] { $sheets } sheets spoilt
    }
work-change-label =
    I take it that all else on the label is as on yours: { $width } wide, { $corrugations } corrugations, { $height } high.
    Check the label before you buy. If it says something else, say “leave it” and “change the sheet”.
work-change-other-sheets = On the list there are also: { $sheets }. To go by one of those, say “leave it” and “change the sheet”.
work-not-that-sheet = Your plan takes no sheets of { $length }, so nothing is different.
work-which-other-sheet = Then another sheet has to do. Which one can you get? You can also tell me its length, such as “they only have 1.8 m sheets”.
work-change-nothing = Nothing that you build or buy is different.
work-change-refused = Stop the work here until that is settled. If it was a slip, say “leave it”.
work-change-asks = Then I need to know more before there is a plan again. If it was a slip, say “leave it”.
work-change-ask = Nothing is changed yet. Say “yes” to go by this, or “leave it”.
work-settle-first = First this: shall we go by it?
work-stands = This still stands: { $what }.
work-redo = This must be put right or taken off: { $what }.
work-lift = This comes off first and goes back after: { $what }.
work-steps-now = The work has { $of } steps now. It had { $was }.
work-plan-again = There is a plan again. This follows:
work-take-off = Before the next step, take this off or put it right: { $what }.
work-take-off-check = Before you go on: is that done, and is what comes off laid flat and weighed down?
work-buy = Buy { $count } more: { $name }.
work-buy-lengths = Buy { $count } more: { $name }, { $length } long.
work-spare = { $count } will be spare: { $name }.
work-spare-lengths = { $count } will be spare: { $name }, { $length } long.
work-lost = Count as lost: { $count } { $goods } already used.
work-from-offcut = Cut { $piece } from an offcut: { $offcut }.
work-cut-from-what-is-left = What is still to lay, cut from what is left and from offcuts:
work-cut-sheet = { $count ->
        [one] Cut one whole sheet
       *[other] Cut { $count } whole sheets, each
    } to { $pieces }.
work-pieces-alike = { $count ->
        [one] { $piece }
       *[other] { $count } pieces of { $piece }
    }
work-recut =
    { $sheets ->
        [0] No more whole sheets are needed.
        [one] One more whole sheet is needed.
       *[other] { $sheets } more whole sheets are needed.
    } { $at_hand ->
        [one] One should be left
       *[other] { $at_hand } should be left
    }, so there is nothing to buy.
work-recut-buy =
    { $sheets ->
        [one] One more whole sheet is needed
       *[other] { $sheets } more whole sheets are needed
    }, and { $at_hand ->
        [0] none should be left
        [one] one should be left
       *[other] { $at_hand } should be left
    }. Buy { $buy } more.
work-nothing-to-accept = There is no change to accept.
work-accepted = Good, that holds now.
work-left-as-it-was = Left as it was.

## What steps are called

work-on-front = on the front slope, { $what }
work-on-back = on the back slope, { $what }
work-number = { $number }
work-name-get-ready = getting ready
work-name-inspect = looking over the building
work-name-strip = the old covering
work-name-deck-repair = the mended deck
work-name-deck = the new deck
work-name-underlay = the vapour control layer
work-name-purlin = { $count ->
        [one] the purlin at { $lines }
       *[other] the purlins at { $lines }
    }
work-name-lines = the snapped lines
work-name-insulation = the insulation
work-name-eaves-filler = the eaves filler
work-name-square = the square corner
work-name-taper = the marks for the columns
work-name-offcuts = the pieces for the back slope
work-name-cut = the cut pieces
work-name-first-sheet = the first sheet
work-name-course = { $count ->
        [one] course { $courses }
       *[other] courses { $courses }
    }
work-name-laps = the laps
work-name-nails = the nails at { $lines }
work-name-wall-side = the flashing at the side
work-name-wall-top = the flashing at the top wall
work-name-verge = the verge pieces
work-name-top-edge = the top edge pieces
work-name-ridge = the ridge pieces
work-name-finials = the finials
work-name-last-look = the last look

## Buttons

button-work-start = Start the work
button-work-done = Done
button-work-problem = Problem
button-work-left = How many left?
button-work-pause = Can I pause?
button-work-where = Where was I?
button-work-undo = Take that back
button-work-measure = A measure is different
button-work-spoilt = A sheet is spoilt
button-work-short = Running short
button-work-weather = Bad weather
button-work-rotten = Something is rotten
button-work-accept = Accept
button-work-leave = Leave it

## Other rules than those that the plan was made by.

book-changed = The rules I go by have changed since your last plan, so I've made it again. This is different now:
book-changed-unseen = The rules I go by have changed since your last plan, so I've made it again. Please look through it before you buy.
book-changed-refuses = The rules I go by have changed since your last plan. By the new ones I can't plan this roof:
book-changed-asks = The rules I go by have changed since your last plan. I need to know a bit more before there is a plan again.
book-changed-cautions = The rules I go by have changed. Your plan stays as it is. Please mind this too:
book-changed-would-refuse = The rules I go by have changed. Your plan stays as it is. By the new rules I wouldn't plan this roof, so please talk to your adviser before you go on:
book-changed-would-ask = The rules I go by have changed. Your plan stays as it is.
book-changed-plan-lost = The rules I go by have changed, and I can't find the plan you build by any more. I'm sorry. I've made a new one. Please hold it against what you've built before you go on, and ask your adviser where the two differ.
