# The questions. Short, kind, one thing at a time; reading age about nine.
# For every question ID in script.toml: ask-, why-, how-, example-, unsure-, fact- and its choices.

## What is on the roof now

ask-covering-now = What is on the roof now?
    You can also type tiles, slates, plastic or glass.
why-covering-now = Some old grey sheets and boards hold asbestos. Its dust can make you very ill, so I ask this before anything else.
how-covering-now = Look from the ground or from a window. Don't climb up, and don't break or scrape anything. Hard, grey, wavy sheets that look like cement are the ones to be careful with.
example-covering-now = For example: “felt”, “metal sheets” or “nothing”.
unsure-covering-now = That's fine. When nobody knows, I treat it as if it might hold asbestos.
fact-covering-now = what is on the roof now
choice-covering-now-nothing = Nothing, it's bare
choice-covering-now-felt = Felt
choice-covering-now-bitumen_sheets = Bitumen sheets
choice-covering-now-metal_sheets = Metal sheets
choice-covering-now-grey_cement_sheets = Grey cement sheets
choice-covering-now-tiles_or_slates = Tiles or slates
choice-covering-now-plastic_or_glass = Plastic or glass
choice-covering-now-not_sure = Not sure

ask-asbestos-test = Has a competent person tested it for asbestos?
why-asbestos-test = Nobody can tell asbestos by looking. Only a test of a sample, taken by a trained person, can clear it.
how-asbestos-test = Ring your local council or a licensed asbestos company and ask for a sample to be tested. Don't take one yourself. When the result is here, come back: I keep your answers.
example-asbestos-test = For example: “it was tested and it's clear”, or “not tested yet”.
unsure-asbestos-test = Then please take it as not tested, and have it tested first.
fact-asbestos-test = asbestos test
choice-asbestos-test-tested_clear = Tested, and clear
confirm-asbestos-test-tested_clear = So: these very sheets were tested by a competent person, and no asbestos was found in any of them. Is that right?
choice-asbestos-test-not_tested = Not tested
choice-asbestos-test-contains_asbestos = It holds asbestos

ask-asbestos-tested-by = Who tested it, and when? The name of the laboratory or firm will do.
why-asbestos-tested-by = A test counts for what was tested. I write down who did it, so that it stands beside the work.
how-asbestos-tested-by = Look at the paper that came with the result: the laboratory or firm stands at the top, and the day.
example-asbestos-tested-by = For example: “the county laboratory, June this year”, or “not sure”.
unsure-asbestos-tested-by = Then look for the paper before anybody touches the old sheets. I write that into your plan.
fact-asbestos-tested-by = who tested it
choice-asbestos-tested-by-not_sure = Not sure

fact-asbestos-suspicion = asbestos spoken of
choice-asbestos-suspicion-yes = Yes

## Is it sound

ask-structure = Are the roof timbers sound: no rot, no sagging, nothing soft or cracked?
why-structure = New sheets are only as good as the wood that holds them, and a weak roof can drop you.
how-structure = Look from inside, with a torch. Press the wood with a screwdriver: sound wood is hard and dry. Sight along the eaves and the top: both should be straight. Don't climb on the roof to find out.
example-structure = For example: “all sound”, “a bit rotten at one end”, “repaired”, or “not sure”.
unsure-structure = Please don't guess this one. Look from inside with a torch, and press the wood with a screwdriver. Or have a builder look.
fact-structure = roof timbers
choice-structure-sound = All sound
confirm-structure-repaired = So: all that was rotten or weak has been mended, and that is done. Is that right?
confirm-structure-sound = So: every timber is sound, with no rot, no sagging and nothing soft or cracked. Is that right?
choice-structure-repaired = Repaired
choice-structure-rotten_or_sagging = Rot or sagging
choice-structure-might_not_hold_weight = Might not hold weight
choice-structure-not_sure = Not sure

ask-repaired-by = Who repaired the timbers, and when?
why-repaired-by = A repair is only as good as the one who did it. I write it down, so that it stands beside the work.
how-repaired-by = Look at the bill, or ask whoever had it done.
example-repaired-by = For example: “a carpenter, in March”, or “not sure”.
unsure-repaired-by = Then have somebody who knows timber look at it from below before anybody goes up. I write that into your plan.
fact-repaired-by = who repaired the timbers
choice-repaired-by-not_sure = Not sure

ask-overhead-lines = Does any cable or power line pass over the roof, or near it?
why-overhead-lines = A ladder or a long sheet that comes near a power line can kill, even without touching it.
how-overhead-lines = Stand back and look up all round the building. Think of where the ladder and a sheet held upright would reach.
example-overhead-lines = For example: “none”, or “one runs over the corner”.
unsure-overhead-lines = Please don't guess this one. Stand back, look up all round, and tell me what you see. If you can't tell what a cable is, treat it as live.
fact-overhead-lines = cables overhead
choice-overhead-lines-none = None near
confirm-overhead-lines-cleared = So: the people who run the line have been asked, and say that you may work. Is that right?
confirm-overhead-lines-none = So: no cables and no power lines at all over the roof or near it. Is that right?
choice-overhead-lines-near = Yes, there is
choice-overhead-lines-cleared = Cleared by the operator
choice-overhead-lines-not_sure = Not sure

ask-lines-cleared-when = On which day did the people who run the line say that you may work?
why-lines-cleared-when = Lines and jobs change. With the day, anybody can ask them again whether it still holds.
how-lines-cleared-when = Look at their letter or message, or ring them and ask.
example-lines-cleared-when = For example: “3 November”.
unsure-lines-cleared-when = Then it does not count yet. Ring the people who run the line: they keep the day, and can say it again.
fact-lines-cleared-when = line cleared on

ask-lines-distance = How far is the line from the roof, where it comes nearest?
why-lines-distance = Whoever lifts a ladder or a sheet must know how much room there is.
how-lines-distance = Never hold anything up to a line. The people who run it can tell you how far it is.
example-lines-distance = For example: “6 m from the ridge”.
unsure-lines-distance = Then it does not count yet. Ask the people who run the line how far it is. Never hold anything up to a line.
fact-lines-distance = distance of the line

## Shape

ask-form = Has the roof one slope, or two that meet at a ridge?
why-form = Two slopes need ridge pieces along the top. One slope needs its top edge closed, or a flashing at a wall.
how-form = Look at the end of the building. If its top edge is one straight line, that's one slope. If it comes to a point, that's two.
example-form = For example: “one slope”, “lean-to”, or “two slopes”.
unsure-form = Look at the end wall: a straight top edge means one slope, a point means two.
fact-form = form
choice-form-single_slope = One slope
choice-form-two_slopes = Two slopes

ask-slopes-equal = Are both slopes the same?
why-slopes-equal = If they are, I lay out one and double it. If not, I lay out each by itself.
how-slopes-equal = Measure each slope from its lower edge up to the ridge. If both lengths and both angles are alike, they are the same.
example-slopes-equal = For example: “yes, the same”, or “no, the back is longer”.
unsure-slopes-equal = Measure both from the lower edge up to the ridge, then tell me yes or no.
fact-slopes-equal = both slopes alike
choice-slopes-equal-yes = Yes, the same
choice-slopes-equal-no = No, different

ask-pitch = How steep is the slope?
why-pitch = The slope decides nearly everything: what must be under the sheets, how far they lap, and whether they suit the roof at all.
how-pitch = Lay a phone with a level app on the slope, or on a straight stick along the end of the roof, and read the degrees. Or hold a level out flat: from where it touches the slope, go a known distance along and measure how far the slope rises to meet it. A climb of 300 mm over 900 mm is “300 over 900”.
example-pitch = For example: “22 degrees”, “1 in 3”, or “300 over 900”.
unsure-pitch = No problem: I can work it out from how much the roof climbs.
fact-pitch = slope

ask-rise = How much does the slope climb, straight up, from its lower edge to its top?
why-rise = With this and the length of the slope I can work out how steep it is.
how-rise = Measure the height from the floor to the lower edge, and to the top edge or ridge. Take one from the other. If the top is at 2.6 m and the lower edge at 2.1 m, the slope climbs 0.5 m.
example-rise = For example: “500 mm”, or “1ft 8”.
unsure-rise = You need two heights from the same floor: to the lower edge and to the top. Take one from the other and send me what is left.
fact-rise = climb of the slope

ask-pitch-back = How steep is the back slope?
why-pitch-back = The two slopes differ, so each has its own rules.
how-pitch-back = The same way as the front: a phone's level on the slope, or how far it climbs over a known distance.
example-pitch-back = For example: “15 degrees”, or “1 in 4”.
unsure-pitch-back = Lay a phone with a level app on the back slope, from a ladder that somebody holds, or on a stick along the end of the roof.
fact-pitch-back = back slope

## What carries the sheets

ask-base = What will the sheets lie on?
why-base = The nails need wood to bite into. What is there decides whether you need more.
how-base = Look up from inside. Boards or big flat panels side by side: that's a deck. Timbers running from eaves to top with gaps: rafters. Timbers running along the roof with gaps: purlins.
example-base = For example: “boards”, “plywood”, “OSB”, “open rafters” or “open purlins”.
unsure-base = Look up from inside. Can you see daylight or felt between the timbers? Then it is open rafters or purlins. If you see one wooden surface, it is a deck of boards or panels.
fact-base = what is under the sheets
choice-base-boards = Boards
choice-base-plywood = Plywood
choice-base-osb = OSB
choice-base-rafters = Open rafters
choice-base-purlins = Open purlins

ask-deck-thickness = How thick is that deck?
why-deck-thickness = A nail must bite into the wood but not come out below, where heads and hands are.
how-deck-thickness = Find an edge, a knot hole or the end at the eaves, and hold a ruler across it. Measure the wood only, not the felt.
example-deck-thickness = For example: “12 mm”, “18” or “half an inch”.
unsure-deck-thickness = I do need this one. Look at the end of the boards at the eaves or round a hole, and hold a ruler to the wood.
fact-deck-thickness = deck thickness

ask-timber-spacing = How far apart are the timbers below, from the middle of one to the middle of the next?
why-timber-spacing = New wood is joined and screwed over these timbers, so I need to know where they are.
how-timber-spacing = From inside, measure from the left edge of one timber to the left edge of the next. That's the same as middle to middle.
example-timber-spacing = For example: “600 mm”, “40 cm” or “16 inches”.
unsure-timber-spacing = I'll go on with a usual spacing for now. Please check it before you cut any purlins.
fact-timber-spacing = spacing of the timbers below

## Size

ask-length = How long is the roof along the eaves, from one end to the other?
why-length = It decides how many sheets go side by side.
how-length = The eaves are the lower edge. Measure along it from the outside of one barge board (the board up the end) to the outside of the other. Measure twice.
example-length = For example: “2.4 m”, “240 cm” or “8ft 6”.
unsure-length = Measure along the lower edge from end to end, once each way. I'll wait.
fact-length = length along the eaves

ask-slope-length = How far is it up the slope, from the eaves edge to the very top?
why-slope-length = It decides how long the sheets must be, and where the purlins go.
how-slope-length = Measure along the slope itself, not level: from the end of the rafters or boards at the bottom to the top edge or the ridge. Along the end of the roof is the safest place.
example-slope-length = For example: “1.8 m”, or “6ft”.
unsure-slope-length = No problem: I can work it out from the width of the building.
fact-slope-length = length up the slope

ask-slope-length-back = How far is it up the back slope?
why-slope-length-back = The two slopes differ, so I lay out each by itself.
how-slope-length-back = The same way as the front: along the slope from its eaves edge to the ridge.
example-slope-length-back = For example: “2.2 m”, or “7ft 3”.
unsure-slope-length-back = Measure along the back slope at the end of the roof, from the eaves edge to the ridge.
fact-slope-length-back = length up the back slope

ask-span = How wide is the building under the roof, level, from outside wall to outside wall?
why-span = With the width and the slope I can work out how far it is up the slope.
how-span = Measure across the end wall, level, at the bottom. For two slopes measure the whole width; for one slope from the low wall to the high wall.
example-span = For example: “3 m”, or “10ft”.
unsure-span = Measure along the ground at the end wall, from corner to corner.
fact-span = width of the building

ask-rafter-overhang = How far does the roof stick out past the wall at the eaves, measured level?
why-rafter-overhang = The sheets must cover that part too.
how-rafter-overhang = Hold a tape level from the wall out to the end of the rafters. If they stop at the wall, it's 0.
example-rafter-overhang = For example: “150 mm”, or “0”.
unsure-rafter-overhang = Look at the eaves from the end. If the rafters stop at the wall, answer 0. If not, measure how far they pass it.
fact-rafter-overhang = overhang of the rafters

ask-diagonal-a = How long is one diagonal of the slope, corner to corner?
why-diagonal-a = If both diagonals are alike, the roof is square. If not, the sheets must be set out with care.
how-diagonal-a = From the lower left corner to the upper right one, with the tape tight.
example-diagonal-a = For example: “3.04 m”.
unsure-diagonal-a = Two people and a long tape, from the ladder at each end. Leave it if it can't be done safely.
fact-diagonal-a = one diagonal

ask-diagonal-b = And the other diagonal?
why-diagonal-b = If both diagonals are alike, the roof is square.
how-diagonal-b = From the lower right corner to the upper left one, with the tape tight.
example-diagonal-b = For example: “3.05 m”.
unsure-diagonal-b = Two people and a long tape, from the ladder at each end. Leave it if it can't be done safely.
fact-diagonal-b = other diagonal

## What it meets

ask-wall-top = Does the top edge meet a wall?
why-wall-top = Rain runs down the wall, so that edge needs a flashing.
how-wall-top = Look at the high edge. A lean-to against a house meets a wall; a shed standing free doesn't.
example-wall-top = For example: “yes, the house”, or “no”.
unsure-wall-top = Walk round to the high side. If you could put your hand between the roof and a wall, answer no.
fact-wall-top = wall at the top edge
choice-wall-top-yes = Yes, a wall
choice-wall-top-no = No, it's free

ask-wall-side = Stand facing the lower edge. Does the left or right end of the roof meet a wall?
why-wall-side = An end that meets a wall needs a flashing and no overhang.
how-wall-side = Stand in front of the building, facing the eaves. Left is your left hand.
example-wall-side = For example: “no”, “left”, “right” or “both”.
unsure-wall-side = Walk to each end. If you can walk past the end of the roof, it's free.
fact-wall-side = walls at the ends
choice-wall-side-none = Neither end
choice-wall-side-left = Left end
choice-wall-side-right = Right end
choice-wall-side-both = Both ends

ask-wind-from = Facing the same way, from which side does the wind mostly blow?
why-wind-from = I start laying at the end away from the wind, so that it blows over the joints and not into them.
how-wind-from = Look which way trees and hedges lean, or think where rain hits the windows.
example-wind-from = For example: “left”, “right” or “not sure”.
unsure-wind-from = That's fine. I'll start from the left, and say so.
fact-wind-from = side the wind blows from
choice-wind-from-left = The left
choice-wind-from-right = The right
choice-wind-from-front = In front
choice-wind-from-back = Behind
choice-wind-from-not_sure = Not sure

ask-insulation = Do you want insulation boards between the purlins?
why-insulation = Boards between the purlins, over a membrane, make a warmer building for little money.
how-insulation = Think what the building is for: a store needs none, a workshop is nicer with it.
example-insulation = For example: “yes”, or “no”.
unsure-insulation = I'll leave it out for now. Say “insulation” at any time to add it.
fact-insulation = insulation
choice-insulation-no = No
choice-insulation-yes = Yes, please

## The sheet

ask-sheet = Which sheet will you use?
    If you have your own, pick “Read my label” and I'll ask what it says.
why-sheet = Sheets differ in length, width and waves, and the whole plan is made of them.
how-sheet = Look for the label on the pack, or ask at the counter. I need the length, the whole width, the number of corrugations (waves) and how high they are.
example-sheet = For example: “the demo sheet”, or “my own”.
unsure-sheet = I'll use the demo sheet for now. It's invented, so check your own sheet's label before you buy.
fact-sheet = sheet
choice-sheet-label = Read my label
choice-sheet-label-of = Read my label ({ $covering })

ask-sheet-length = What does the label say: how long is one sheet?
why-sheet-length = It decides how many sheets go up the slope.
how-sheet-length = It's on the label, or measure one sheet along its corrugations.
example-sheet-length = For example: “2 m”, or “6ft 6”.
unsure-sheet-length = Measure a sheet along its corrugations, or ask at the counter.
fact-sheet-length = length of a sheet

ask-sheet-width = And how wide is one sheet, edge to edge?
why-sheet-width = It decides how many go side by side.
how-sheet-width = The whole width from edge to edge, not the width it covers.
example-sheet-width = For example: “1 m”, or “950 mm”.
unsure-sheet-width = Measure a sheet straight across its corrugations, edge to edge.
fact-sheet-width = width of a sheet

ask-sheet-corrugations = How many corrugations (waves) has one sheet?
why-sheet-corrugations = Sheets lap by whole corrugations, and nails go in their tops.
how-sheet-corrugations = Count the tops along one end of a sheet.
example-sheet-corrugations = For example: “10”.
unsure-sheet-corrugations = Count the tops along one end, or ask at the counter.
fact-sheet-corrugations = corrugations on a sheet

ask-corrugation-height = How high is one corrugation, from the bottom to the top?
why-corrugation-height = The nail goes through the top, so it must be that much longer.
how-corrugation-height = Lay the sheet flat, put a straight edge across two tops, and measure down to the bottom between them.
example-corrugation-height = For example: “30 mm”.
unsure-corrugation-height = Lay a straight edge across two tops and measure down between them, or ask at the counter.
fact-corrugation-height = height of a corrugation

## Will it hold?

ask-region = Where does the building stand? In the vale, on the downs, or on the moor?
why-region = The higher the ground, the more snow and wind a roof has to bear.
how-region = The vale is the low ground round Fennick Green, the downs are the hills beside it, and the moor is the high ground above. The regions are invented, like the village: elsewhere take your own country's map of snow and wind.
example-region = For example: “in the vale”.
unsure-region = Then I'll take a cautious value, with much snow and wind.
fact-region = region
choice-region-vale = In the vale
choice-region-downs = On the downs
choice-region-moor = On the moor
choice-region-not_sure = Not sure

ask-surroundings = What is around the building: houses and trees, open fields, the top of a hill, or the coast?
why-surroundings = Houses and trees break the wind. On a hilltop and by the sea it blows hardest.
how-surroundings = Look around from the roof's height. What is there within a few hundred steps?
example-surroundings = For example: “open fields”.
unsure-surroundings = Then I'll take open fields.
fact-surroundings = surroundings
choice-surroundings-town = Houses and trees
choice-surroundings-fields = Open fields
choice-surroundings-hilltop = A hilltop
choice-surroundings-coast = The coast
choice-surroundings-not_sure = Not sure

ask-eaves-height = How high are the eaves above the ground?
why-eaves-height = The higher a roof stands, the harder the wind blows, and the further it is to fall.
how-eaves-height = Measure from the ground to the lower edge of the roof.
example-eaves-height = For example: “2.2 m”.
unsure-eaves-height = Then I'll take 2.5 m.
fact-eaves-height = height of the eaves

ask-open-sides = How many sides of the building have no wall?
why-open-sides = Wind that gets in below lifts the roof from inside.
how-open-sides = Walk round it. A large door that stands open in a storm counts as an open side.
example-open-sides = For example: “none”, or “one”.
unsure-open-sides = Then I'll take one open side.
fact-open-sides = open sides
choice-open-sides-none = None
choice-open-sides-one = One
choice-open-sides-three_or_more = Three or more
choice-open-sides-not_sure = Not sure

ask-taller-beside = Does something higher stand close beside the roof, such as a house or a wall?
why-taller-beside = Snow drifts against it, and slides down from it.
how-taller-beside = Look for anything higher within a few steps of the roof.
example-taller-beside = For example: “no”.
unsure-taller-beside = Then I'll take it that something does.
fact-taller-beside = something higher beside it
choice-taller-beside-no = No
choice-taller-beside-yes = Yes

ask-wind-speed = What basic wind speed does your map give, in metres a second?
why-wind-speed = The wind that comes once in fifty years decides what must hold the sheets down.
how-wind-speed = Your country's map of wind gives it, or your council does: the basic wind velocity of EN 1991-1-4.
example-wind-speed = For example: “24”.
unsure-wind-speed = Then say where the building stands, and I'll take the value of that region.
fact-wind-speed = basic wind speed

ask-snow-load = What snow load does your map give, in newtons on a square metre?
why-snow-load = The snow that comes once in fifty years decides what timber the roof wants.
how-snow-load = Your country's map of snow gives it, or your council does: sk of EN 1991-1-3. 0.8 kN/m² are 800.
example-snow-load = For example: “800”.
unsure-snow-load = Then say where the building stands, and I'll take the value of that region.
fact-snow-load = snow load

ask-rafter-width = How wide is a rafter, across its narrow side?
why-rafter-width = I can only tell whether the rafters hold if I know their size.
how-rafter-width = Measure the narrow side of one rafter from inside.
example-rafter-width = For example: “50 mm”.
unsure-rafter-width = Then the rafters stay out of my sums. Somebody who knows should look at them.
fact-rafter-width = width of a rafter

ask-rafter-depth = How deep is a rafter, from its upper edge to its lower one?
why-rafter-depth = I can only tell whether the rafters hold if I know their size.
how-rafter-depth = Measure the wide side of one rafter from inside.
example-rafter-depth = For example: “100 mm”.
unsure-rafter-depth = Then the rafters stay out of my sums. Somebody who knows should look at them.
fact-rafter-depth = depth of a rafter

ask-rafter-span = How far does a rafter span, from the wall to what carries it next?
why-rafter-span = I can only tell whether the rafters hold if I know how far they span.
how-rafter-span = Measure along the rafter from inside: from the wall to the ridge, or to the beam or wall below it.
example-rafter-span = For example: “1.8 m”.
unsure-rafter-span = Then the rafters stay out of my sums. Somebody who knows should look at them.
fact-rafter-span = span of a rafter

ask-heated = Is the room below heated?
why-heated = Warm air holds more damp, and that drips from a cold sheet.
how-heated = Think of the winter: is there a heater that runs for hours?
example-heated = For example: “no”.
unsure-heated = Then I'll take it that it is.
fact-heated = heating below
choice-heated-no = No
choice-heated-yes = Yes
