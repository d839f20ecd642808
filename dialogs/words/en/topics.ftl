# Answers to follow-up questions. Short first; `-more` is the why and how. Figures come in by name: no figure is
# written here.

# Said around answers

answer-slope-front = On the front slope:
answer-slope-back = On the back slope:
answer-band-from = At { $from } and over: { $value }.
answer-band-between = From { $from } up to { $to }: { $value }.
answer-band-boundary = A slope right on the line takes the steeper band: { $cases }.
answer-band-exactly = exactly { $from } takes { $value }
answer-which-one = { $topics ->
        [one] I am not sure what you mean. Is it this?
       *[other] I am not sure which you mean. Is it one of these?
    }
answer-not-understood = Sorry, I did not get that. Ask about laps, nails, purlins, edges, weather or safety, in your own words. Or say “talk to a person”.

# Laps

answer-end-lap-size = The end lap on your roof is { $lap }: each upper sheet covers the lower one by that much.
answer-end-lap-size-one-course = On this slope one sheet reaches from eaves to top, so there is no end lap. If you ever lap two, lap them { $lap }.
answer-end-lap-size-general = The end lap is how far the upper sheet covers the lower one. It goes by the slope.
answer-end-lap-size-more = The flatter the roof, the further wind can push rain up under the lap. Each end lap lies over a purlin or firm deck. Nothing else makes up for a short lap.

answer-side-lap-count = Neighbouring sheets on your roof share { $count ->
        [one] { $count } corrugation
       *[other] { $count } corrugations
    }.
answer-side-lap-count-general = The side lap is how many corrugations neighbouring sheets share. It goes by the slope.
answer-side-lap-count-from = At { $from } and over: { $count ->
        [one] { $count } corrugation
       *[other] { $count } corrugations
    }.
answer-side-lap-count-between = From { $from } up to { $to }: { $count ->
        [one] { $count } corrugation
       *[other] { $count } corrugations
    }.
answer-side-lap-count-more = Lay the lap facing away from the wind, and nail the corrugation on each side of it.

# Nails

answer-nail-pattern-intermediate = On the purlins between eaves and end laps, nail { $every ->
        [1] every corrugation
        [2] every other corrugation
       *[other] every { $every } corrugations
    }. Nail the corrugation on both sides of a side lap too.
answer-nail-pattern-intermediate-nail = Your nail is: { $nail }. It is { $length } long and bites { $bite } or more into the timber, through all that laps there.
answer-nail-crown = Nail through the crown, the top of the wave, never the trough: rain runs in the trough.
answer-nail-pattern-intermediate-more = A fixing wants { $least } to { $most } of timber.

answer-nail-pattern-eaves = At the eaves and at end laps, nail { $every ->
        [1] every corrugation
        [2] every other corrugation
       *[other] every { $every } corrugations
    }. Wind pulls hardest there.
answer-nail-pattern-eaves-line = The lowest line of nails on your roof is { $height } up from the eaves edge.
answer-nail-pattern-eaves-more = Drive each nail until its head is snug. Stop before it crushes the sheet.

# Laying

answer-which-end-to-start = Start at the { $hand } end of your roof, as you face the eaves. That end is away from the prevailing wind.
answer-which-end-to-start-any = Wind does not settle the end on your roof. The plan starts at the { $hand } end, as you face the eaves.
answer-which-end-to-start-general = Start at the end away from the prevailing wind.
answer-which-end-to-start-more = Then the side laps face away from the wind. Lay the eaves course first and work up. Set the first sheet square before the first nail.

answer-sheet-cutting-how = Cut with a coarse hand saw, oiled so that it does not stick. A circular saw is easier.
answer-sheet-cutting-how-count = Your plan takes { $cuts ->
        [one] { $cuts } straight cut
       *[other] { $cuts } straight cuts
    }.
answer-sheet-cutting-how-more = Wear goggles and gloves. Support the sheet on both sides of the cut. Cut on the ground, never on the roof. Mark the line first, and measure twice.

answer-sheet-split = Do not leave a split sheet on the roof. Replace it, or cut past the damage and use the sound part.
answer-sheet-split-piece = A sound part is worth laying if it is { $least } long or more.
answer-sheet-split-more = Sheets split when nails are driven too hard or through the trough. Drive them snug, through the crown. Tape or sealant will not hold. Tell me “a sheet is broken” and I will look at the pieces again.

answer-extra-sheet-needed = Check the laps first. Your plan needs { $sheets ->
        [one] { $sheets } sheet
       *[other] { $sheets } sheets
    }, and each covers { $cover } across. The whole width is { $width }: the lap takes the rest.
answer-extra-sheet-needed-general = Check the laps first. The sheet count goes by what a sheet covers, not by its full size.
answer-extra-sheet-needed-more = Do not stretch the laps or make them smaller: the roof would leak. If you are short, buy the same profile from the same maker, so that the waves fit. The count goes by cover, not full size.

answer-how-many-spare = Get at least { $count ->
        [one] { $count } spare sheet
       *[other] { $count } spare sheets
    }, and some spare nails.
answer-how-many-spare-line = { $name }: the plan uses { $needed }, and the list has { $left } over for that.
answer-how-many-spare-more = The counts in the plan cover the laps already. Spares are for breakage and slips of the saw.

answer-leftover-offcuts = An offcut can start the next course, to stagger the joints, if it reaches two purlins.
answer-leftover-offcuts-piece = On your roof a piece must be { $least } long or more to be laid. The cut list uses good offcuts already.
answer-leftover-offcuts-more = Never burn them: bitumen smoke is harmful. Take what is left to a waste site.

# What carries the sheets

answer-deck-too-thin = A deck must hold { $bite_least } to { $bite_most } of nail. So it must be { $least } thick or more.
answer-deck-too-thin-over = Your deck is { $deck }, which is too thin for the nails. So purlins go over it, and the sheets are nailed into those.
answer-deck-too-thin-holds = Your deck is { $deck }, so it takes the nails. Your nail bites { $bite } or more into it.
answer-deck-too-thin-no-deck = Your sheets are nailed into purlins, so the deck does not have to hold them.
answer-deck-too-thin-new-deck = Your roof gets a new deck, { $deck } thick, which takes the nails.
answer-deck-too-thin-screw = Fix the purlins at the verges from outside first. Then screw up through the deck from inside: the screw is { $screw } long, so no point comes through.
answer-deck-too-thin-more = On a thinner deck, overlay it with purlins and nail into those. Nails in a thin deck work loose in the wind and their points show inside.

answer-nails-poking-through = Then the deck is thinner than the nail bites, or the nails are too long. A nail wants { $bite_least } to { $bite_most } of timber.
answer-nails-poking-through-nail = Your nail is { $length } long and bites { $bite } or more into the timber under the sheet.
answer-nails-poking-through-more = Points are a hazard to heads and hands. Do not leave them where people stand: cover or cut them, with goggles and gloves on. If the deck is thin, overlay it with purlins and nail into those.

answer-purlin-spacing-why = The rule for your slope: purlins no more than { $spacing } apart, measured centre to centre.
answer-purlin-spacing-why-lines = There are { $count }. Up from the eaves edge their middles are at { $lines }.
answer-purlin-spacing-why-deck = Your sheets lie on a full deck, so there are no purlins. The rule for the lines of nails: no more than { $spacing } apart.
answer-purlin-spacing-why-general = The gap goes by the slope. It is measured centre to centre.
answer-purlin-spacing-why-band-deck = From { $from } up to { $to }: a full deck.
answer-purlin-spacing-why-more = Put them wider and the sheets sag between them and leak.

answer-out-of-square = Measure both diagonals, corner to corner. If they match, the roof is square.
answer-out-of-square-yours = You gave me { $a } and { $b }.
answer-out-of-square-more = Set the first sheet to a string line that is square to the eaves. Keep every sheet in line with it. Do not fan the sheets. Lose the taper in the cut at the last verge.

# Edges

answer-ridge-fit = Nail ridge pieces { $every ->
        [1] every corrugation
        [2] every other corrugation
       *[other] every { $every } corrugations
    }. Start from the end away from the prevailing wind.
answer-ridge-fit-pieces = Your ridge takes { $pieces ->
        [one] { $pieces } piece
       *[other] { $pieces } pieces
    }, each lapping the next by { $lap }.
answer-ridge-fit-none = Your roof has one slope, so it has no ridge. The same holds for pieces along its top edge.
answer-ridge-fit-more = Mark the ridge line on the sheets first. Nail into a purlin either side of the ridge. Offer up a piece to see where its wings want that purlin. Work from a platform, never from the sheets.

answer-verge-finish = The sheet goes about { $overhang } past the barge board, so that rain drips clear.
answer-verge-finish-pieces = Your plan has { $pieces ->
        [one] { $pieces } verge piece
       *[other] { $pieces } verge pieces
    }.
answer-verge-finish-more = Fit a verge piece from the eaves up, or nail the last corrugation down to the barge board. A loose edge is where wind starts to lift a roof.

answer-eaves-overhang = Let the sheets stick out { $overhang } past the eaves.
answer-eaves-overhang-more = Much more sags. Much less wets the fascia. The drip should land in the gutter.

answer-wall-abutment = Where the roof meets a wall it needs a flashing: over the sheet, and into or behind the wall face. Not sealant alone.
answer-wall-abutment-top = Along the top of your roof: { $pieces ->
        [one] one wall piece
       *[other] { $pieces } wall pieces, each lapping the next by { $lap }
    }.
answer-wall-abutment-side = Up the side at the wall: { $pieces ->
        [one] one wall piece
       *[other] { $pieces } wall pieces, each lapping the one below by { $lap }
    }.
answer-wall-abutment-more = Put support under the top edge, so that the flashing has something firm to lie on. Nail it through the sheets into that support.

answer-gutter = Fit the gutter brackets before the sheets where you can. The sheets stick out { $overhang } at the eaves, and that lands the water in the gutter.
answer-gutter-more = Do not lean a ladder on the gutter: it may slip or break.

answer-rooflight = Clear sheets of the same profile lap like the rest: { $lap } at end laps, { $count ->
        [one] { $count } corrugation
       *[other] { $count } corrugations
    } at the sides.
answer-rooflight-general = Clear sheets of the same profile lap like the rest.
answer-rooflight-more = Treat them as fragile and never step on them. A hole for a window needs a proper frame and flashing. Do not cut a rafter for it: that is work for a builder.

answer-pipe-penetration = A pipe needs a flashing or collar, dressed over the sheets. Sealant alone fails.
answer-pipe-penetration-more = The sheet above laps over the top of the flashing, and the flashing lies over the sheet below. Is it the pipe of a stove or boiler? A hot flue is a licensed installer's job: bitumen softens and can burn.
answer-pipe-penetration-danger = A hot flue through these sheets is a licensed installer's job. Do not cut the hole yourself: bitumen softens and can burn.

answer-underlay-needed = You do not need underlay to keep rain out. The laps and the pitch do that.
answer-underlay-needed-more = It is useful against drips from condensation. It must not block the ventilation.

answer-condensation = Drips inside without rain are most often warm damp air on a cold sheet.
answer-condensation-more = Ventilate. Air must get in at the eaves and out at the top, so take fillers with slots and never seal them. To tell it from a leak, check laps and nails after rain: a leak comes with rain, condensation with cold.

answer-insulation-between-purlins = Insulation can go between the purlins. Keep a ventilated gap between the insulation and the sheet.
answer-insulation-between-purlins-none = Your plan has none.
answer-insulation-between-purlins-unplanned = You wanted it, and your plan has none: only purlins over a deck leave room for boards.
answer-insulation-between-purlins-yours = Your plan has boards of insulation between the purlins.
answer-insulation-between-purlins-more = Put a vapour control layer on the warm side. Do not stuff the corrugations solid: damp air must get out.

answer-old-felt-leave-or-strip = Sound, flat felt on a firm, dry deck may stay. Strip it if it is loose, bubbled or hiding rot.
answer-old-felt-leave-or-strip-more = If the felt or what is under it may hold asbestos, stop and have it tested first.

answer-weight-limits = The sheets are light, but the frame must be sound.
answer-weight-limits-mass = Everything that stays on your roof weighs { $mass }. That is { $each } on each square metre.
answer-weight-limits-more = Do not stack a pile of sheets in one spot. I cannot tell you what an old frame carries: if it is rotten or sagging, stop and get it checked.
answer-weight-limits-danger = Rot or sagging: stop work, stay off the roof, and get the frame checked by a builder or structural engineer. The plan waits until it is sound.

answer-unsuitable-pitch = Below { $least } these sheets are not suitable.
answer-unsuitable-pitch-yours = Your roof is { $pitch }, so the sheets will do.
answer-unsuitable-pitch-yours-flat = Your roof is { $pitch }, so the sheets will not do.
answer-unsuitable-pitch-more = No lap, sealant or mastic fixes that: water stands and creeps in. Raise the fall, or use another covering made for flat roofs.

# Weather and safety

answer-wind-stop-work = Stop in any wind that lifts or catches a sheet.
answer-wind-stop-work-limit = Whatever the sheets do, stay down in more wind than { $wind } mph.
answer-wind-stop-work-more = Never carry sheets on a ladder in wind. Before you leave, fix or weigh down what is loose.

answer-rain-mid-job = Stop. Wet sheets and ladders are slippery.
answer-rain-mid-job-more = If it is safe, cover the open part and fix loose sheets. Start again when the timber and the sheets are dry.

answer-walking-on-sheets = No. Do not stand, kneel or walk on the sheets.
answer-walking-on-sheets-more = Work from a secure platform, a ladder, or a crawl board spread across purlins.

answer-ladder-setup = Stand it on firm, level ground: about one out for every four up.
answer-ladder-setup-more = Have it tied or footed, with its top well above the edge. Never lean it on the gutter. For more than a short job use a platform.

answer-fragile-roof = Treat it as fragile. Do not climb on it.
answer-fragile-roof-more = Work from below or from a proper platform. If in doubt, ask a roofing professional. Most falls through roofs are through old sheets that looked sound.

answer-working-alone = Please don't. Have a second person within call.
answer-working-alone-more = It takes two to lift and hold sheets. Never do roof work alone in wind.

answer-child-pets = Keep children and animals out of the drop zone, all round the roof.
answer-child-pets-more = Clear up nails and offcuts each day. Handing up sheets and standing at the ladder are jobs for adults.

answer-can-i-pause = Rest when you like. Your plan stays where it is.
answer-can-i-pause-more = Before you go, fix or weigh down loose sheets and cover the open part. Take the ladder down.

# Looking after the roof

answer-moss-cleaning = Use a soft brush and water, from a ladder or platform.
answer-moss-cleaning-more = No pressure washer. Do not stand on the sheets. Do not clean a roof you suspect of asbestos.

answer-paint = They take a water-based exterior paint suited to bitumen. Clean it and let it dry first.
answer-paint-more = No solvent paint: it softens bitumen.

# Rules and neighbours

answer-planning-permission = Rules vary by place. Ask your local authority before you start.
answer-planning-permission-more = I cannot say that it is allowed. Ask about building rules as well as planning.

answer-neighbours-boundary = Keep the overhang and the water on your side.
answer-neighbours-boundary-more = Talk to the neighbour first. I cannot settle a legal dispute.

answer-cost = These are the quantities to take to the supplier. The list has no prices: those are for them to say.
answer-cost-total = { $without ->
        [0] In all { $price }, by the price list of { $date }.
        [one] In all { $price }, by the price list of { $date }, without the one line that has no price.
       *[other] In all { $price }, by the price list of { $date }, without the { $without } lines that have no price.
    }
answer-cost-line = • { $packs } × { $name }
answer-cost-packs = • { $packs ->
        [one] { $packs } pack
       *[other] { $packs } packs
    } of { $pack }: { $name }
answer-cost-pieces = • { $pieces } × { $name }, { $length } long
answer-cost-priced = { $line }: { $price }
answer-cost-demo = Goods and prices are an invented demo range and no offer. What your supplier asks is what counts.
answer-cost-offer = Your supplier's own offer is what counts.
answer-cost-general =
    Tell me about your roof first. Then I will list all the quantities to take to the supplier.
    With prices on the list I add them up.

# Danger

answer-asbestos-suspect = Stop. Do not cut, drill, break or disturb it. It may be asbestos.
answer-asbestos-suspect-more = Keep people away. Have a licensed professional test or remove it. Your plan goes on hold until it is tested clear.

answer-electricity-cable-overhead = Stop, and keep well away. Nothing metal or long may come near.
answer-electricity-cable-overhead-more = Call the network operator or a licensed electrician. Do not touch or move the cable. Your plan waits until they say it is safe.

answer-injury-emergency = Call your local emergency number now.
answer-injury-emergency-more = Do not move someone who fell, unless they are in danger where they lie. Keep away from live wires and from fire: get everyone out. Press a clean cloth on heavy bleeding. Stay with them. The job stops.

answer-dangerous-request = No, I will not help with that: it can badly hurt or kill you.
answer-dangerous-request-more = The safe way: work from a secure platform or a tied ladder, in daylight, sober, with goggles, gloves and a hard hat, and no flame near bitumen. Cutting a rafter, a tie or any part of the frame is for a licensed builder or structural engineer.

# The chat itself

answer-change-measurement = Send me the new figure, like “the length is” and the size. I will repeat it back.
answer-change-measurement-more = Then I work everything out again and say what is different. Measure twice.

answer-start-over = I can start a new plan. First say yes: this plan and its answers will be lost.
answer-start-over-more = If you only want to change one thing, tell me which. You keep the rest.

answer-talk-to-human = I will pass you to the adviser, if one is on hand here. If not, a roofer or your supplier can help.
answer-talk-to-human-more = Take your plan with you: I can hand it over, so you need not say it all again.

answer-send-to-supplier = I show you the list first. I send it only on your clear yes.
answer-send-to-supplier-lines = Your list has { $lines ->
        [one] { $lines } line
       *[other] { $lines } lines
    }.
answer-send-to-supplier-more = Only the list of goods is shared: not your name, not this chat.

answer-delete-my-data = I can delete this chat, your answers and your plan. Say yes, and they are gone for good.
answer-delete-my-data-more = Nothing is kept but what the law makes us keep.

answer-thanks = You are welcome. Say “where was I” when you want the next step.
answer-greeting = Hello! I plan a roof of corrugated bitumen sheets: laps, nails, cuts, and the list of what to buy.
answer-off-topic = I only know roofs. Shall we get back to yours?

answer-nail-size = A nail goes through the corrugation and all that laps there, and then bites { $least } to { $most } into { $on_deck ->
        [0] a purlin
       *[other] a deck
    }.
answer-nail-long = At end laps and under pieces, where more lies on each other, it is: { $nail }. It is { $length } long and bites { $bite } or more.
answer-nail-size-instead = Another size, or screws instead? Only what is made for these sheets and bites as deep, and only if their label allows it.
answer-nail-size-more = A shorter nail works loose in the wind, and the point of a longer one may come through. Screws go in the same places, and are never driven so tight that the corrugation gives.

answer-tools-needed = Have at hand: { $tools }.
answer-tools-needed-wear = To wear and to stand on: { $wear }.
answer-tools-needed-more = You can borrow the tools. Do not save on what you wear or stand on.

answer-time-needed = About { $hours ->
        [one] { $hours } hour
       *[other] { $hours } hours
    } of work in { $steps } steps, some of them for { $hands ->
        [one] one person
       *[other] { $hands } people
    }.
answer-time-needed-general = That depends on your roof. Tell me its sizes first, and I add up the steps.
answer-time-needed-more = These are rough figures from memory, without mending and weather. You can stop after any step: what is nailed is safe, and I know where you were.

# How long it lasts, what harms it, what is done about it

answer-source = Source: { $source }, { $since }.

answer-sheet-life = Well laid and looked after, sheets of this kind often keep the rain out for { $least } to { $most } years. The label of yours says what its maker promises.
answer-sheet-life-more = What ends it early: short laps, loose nails, leaves that lie and rot, and people who walk on it. Look it over once a year.

answer-colour-fading = Most colours grow paler in the sun over the years. The roof stays as tight as it was.
answer-colour-fading-more = Buy all the sheets in one go, so that they match and fade alike. Which colours there are, your supplier can say. They can be painted too.

answer-noise-of-rain = Rain on these is duller than on bare metal, for the sheet is soft. Heavy rain and hail you will still hear.
answer-noise-of-rain-more = A deck or insulation under the sheets makes it quieter. If it rattles in the wind, look for a loose nail.

answer-fire-risk = These sheets can burn. Keep barbecues, bonfires, sparks and hot flues well away from the roof, and bring no flame near it.
answer-fire-risk-more = How near to a boundary or a house such a roof may be is a building rule of your place: ask your council before you start. If it ever burns, get everyone out and call your local emergency number.

answer-drinking-rainwater = Do not drink it, and do not cook with it: water off a roof holds dirt, droppings and traces of the roof itself.
answer-drinking-rainwater-more = For flowers it will do. For what you eat, for animals and for fish, ask the maker of your sheets first. Let a few good rains wash a new roof before you fill a butt.

answer-rust-and-salt = The sheets do not rust, but nails can. Near the sea, in treated timber or over animals, take stainless ones made for these sheets, or the ones their label names for that.
answer-rust-and-salt-more = A nail that rust has eaten lets go in a storm. Look at them each year, and change those that are thin or loose.

answer-leak-repair = Never walk on the sheets to look. Wait until they are dry, and work from a ladder or a platform. Mark from inside where it drips. Then look up the slope from there: at nails, laps, edges and pipes.
answer-leak-repair-hole = A cracked sheet, or a hole in the wrong place, means a new piece. Tape or sealant holds for a while at most.
answer-leak-repair-more = Beside a loose nail, drive a new one through the crown. A lap that is too short cannot be sealed: that course must be laid again. Drips in the cold, without rain, are condensation.

answer-yearly-care = Once a year, and after a storm, look it over from the ground or a ladder, never from the sheets. Look for loose nails, cracks, lifted edges, moss and leaves, and clear the gutter.
answer-yearly-care-more = Look from inside too, for stains and soft timber. Drive a loose nail until it is snug, no further.

answer-birds-and-vermin = Leave a nest in use, and all bats, alone: in many places the law protects them. Ask your council first. For wasps, call somebody who does that for a living.
answer-birds-and-vermin-close = To keep them out, close the waves at the eaves with fillers, and every gap at ridge, verge and wall with its own piece.
answer-birds-and-vermin-yours = Your plan has { $pieces ->
        [one] { $pieces } eaves filler
       *[other] { $pieces } eaves fillers
    } for that.
answer-birds-and-vermin-more = Air must still get through: put fine wire mesh over the gaps you leave for it.

answer-snow-on-roof = I cannot promise that it carries any snow: that depends on a frame I have not seen. If you get deep snow, have a builder or structural engineer look at it.
answer-snow-on-roof-carries =
    The purlins alone carry { $load } of snow on plan: at least { $settled } of settled snow, or { $wet } of wet snow.
    What carries the purlins must bear it, too.
answer-snow-on-roof-clear = Never climb up to clear it. From the ground, pull off the loose top with a soft broom, stand where it cannot fall on you, and leave a thin layer.
answer-snow-on-roof-more = If the frame bends, creaks or cracks under snow, get everyone out and keep out.

answer-aerial-or-dish = Not on the sheets, and not through them. Fix it to a wall, a gable or a post of its own, and keep poles far from any cable.
answer-aerial-or-dish-more = Wind on a mast tears at what it is fixed to, and every screw through a sheet is a leak. Mains wiring is for an electrician.

answer-solar-panels = Not on these sheets alone. Panels are heavy, wind pulls at them, and they must be fixed through to timbers that can hold them.
answer-solar-panels-yours = Your plan reckons with { $each } of covering on each square metre, and with nothing on top.
answer-solar-panels-more = Ask an installer, and have a structural engineer look at the frame first. A stand on the ground or on a wall is easier.

answer-green-roof = No. Wet soil is far too heavy for these sheets and for most small frames, and roots get into the laps.
answer-green-roof-more = A green roof needs a waterproof skin without joints, and a frame that was made for it: ask a structural engineer. Pots and planters stay off the roof too.

answer-home-insurance = Ask your insurer before you start: I cannot say what they cover. Tell them what the roof will be made of, and who does the work.
answer-home-insurance-more = Ask whether helpers are covered if they get hurt. Take photos before and after.

answer-guarantee = I give none: I neither make nor sell these sheets. What the maker promises stands on the label or on the seller's papers.
answer-guarantee-more = It mostly holds only where slope, laps and nails are as the label asks. Keep the bill, a label and photos. Do not lay a faulty sheet: show it to the seller first.

# Which goods, and how they are fetched, kept and got rid of

answer-which-sheet = { $name }: { $sheets ->
        [one] { $sheets } sheet
       *[other] { $sheets } sheets
    }, { $courses ->
        [one] { $courses } course
       *[other] { $courses } courses
    }{ $laps ->
        [0] { "" }
       *[other] {" "}with end laps of { $end_lap }
    }, { $cuts ->
        [one] { $cuts } cut
       *[other] { $cuts } cuts
    }, { $nails } nails. Cut off and left over: { $left }. All that stays on the roof weighs { $mass }.
answer-which-sheet-priced = { answer-which-sheet } The whole list comes to { $price }.
answer-which-sheet-not = { $name }: I cannot plan your roof with it.
answer-which-sheet-yours = Your plan takes { $name }.
answer-which-sheet-cheaper = { $name } is the cheaper one, by { $less } on the whole list.
answer-which-sheet-same-price = By the list they cost the same.
answer-which-sheet-demo = Sheets and prices are an invented demo range: the supplier's own count.
answer-which-sheet-general = That depends on your roof. Tell me its sizes first, and I compare the sheets on the list for it.
answer-which-sheet-more = Longer sheets mean fewer laps, but they are heavier to lift. To take another one, say “change the sheet”.

answer-second-hand-sheets = First be sure what they are: old grey sheets may be asbestos. Do not fetch, cut or touch those until they are tested clear.
answer-second-hand-sheets-holes = Used bitumen sheets are seldom worth it: old nail holes leak, and old sheets crack.
answer-second-hand-sheets-more = If they are sound, they must all have one wave, and every old hole must be cut away. Give me their size as you measure it.

answer-screws-or-nails = Nails made for these sheets: your roof is counted by them. Screws only if they are made for these sheets, bite as deep, and the label allows them.
answer-screws-or-nails-more = Both go through the crown. A screw is easily driven too tight: stop as soon as the head is snug.

answer-nail-gun = No. A gun drives the head too deep and crushes the wave, and on a ladder it can shoot you or somebody below.
answer-nail-gun-more = Use a hammer, go through the crown, and stop when the head is snug.

answer-sealant-in-laps = No. The laps and the slope keep the rain out. Sealant cannot make up for a short lap or a flat roof.
answer-sealant-in-laps-more = It can even hold water in the lap. Only where the label of your sheets asks for a strip, put one in.

answer-wood-treatment = Take dry, sound timber that is treated against rot. Brush the ends you cut with the same kind of treatment, with gloves on.
answer-wood-treatment-more = Let it dry before a sheet goes on: what holds solvent or oil softens bitumen. Some treatments eat plain nails, so ask for nails that suit. Where animals chew, ask what is safe for them.

answer-borrowing-tools = Hammer, saw, tape and string can be borrowed. Hire the platform, so that it is the right one. Look over a borrowed ladder before you climb: bent, cracked or loose means leave it.
answer-borrowing-tools-more = Gloves, goggles and hard hat should be your own, so that they fit. Try a saw you do not know on the ground first.

answer-hiring-somebody = That is wise for anything you are not sure of. Ask for two or three quotes in writing, for proof of insurance, and to see a roof they have done.
answer-hiring-somebody-more = I know no roofers, and no prices of theirs. Show them this plan and its list: then every quote is for the same work. Pay for work that is done.

answer-disposal = First be sure that it is no asbestos: old grey sheets may be, and some old felt. If you are not sure, leave it and have it tested.
answer-disposal-sort = The rest goes to a waste site or into a skip, sorted: felt, metal, tiles, wood. Ask your council what they take.
answer-disposal-more = Never burn felt, bitumen or treated wood: the smoke is harmful.

answer-sheet-storage = Flat, on level boards off the ground, in the shade, under a cover that lets air in. Weigh them down against wind. Never pile them on the roof, or stand them where they can fall on a child.
answer-sheet-storage-more = On edge they bend, and in the sun they soften and stick. Keep fire away. Look each one over before you lay it.

answer-carrying-sheets = Two people to a sheet. Do not carry one up a ladder: pass it up to somebody on a platform, or slide it up two planks. Leave it when there is wind.
answer-carrying-sheets-yours = One of your sheets weighs about { $one }, and the { $sheets ->
        [one] { $sheets } sheet of the plan weighs
       *[other] { $sheets } sheets of the plan weigh
    } { $all } together.
answer-carrying-sheets-one = { $name } weighs about { $one }.
answer-carrying-sheets-more = By car: flat, with a board under the whole length, tied at both ends and in the middle. I deliver nothing: ask the supplier.

answer-over-old-covering = Not over sheets that may be asbestos, or that may break under you: stay off them, and have them tested.
answer-over-old-covering-strip = Tiles, slates, metal and old bitumen sheets come off first. On top of them the nails have nothing firm to bite into, and the frame would carry both.
answer-over-old-covering-more = Flat, sound felt on a firm, dry deck may stay. With the old covering off you also see whether the timber is sound.

answer-gutter-size-general = That depends on the size of the roof. Tell me its sizes, and I say how much water comes off it.
answer-gutter-size-more = A long gutter wants an outlet at each end. Rain that runs down a wall above the roof comes on top. Let the gutter fall a little towards its outlet.

# Who can do it, in what weather and light

answer-hot-weather = Lay no sheets when it is hotter than { $hottest }°C. They get soft and dent, and heat on a roof makes you dizzy.
answer-hot-weather-more = Start early, stop when it gets hot, drink water and cover your head. Keep the sheets flat in the shade. Never pull a soft sheet longer: it shrinks back.

answer-cold-and-frost = Lay no sheets below { $coldest }°C, or with frost or ice about. They crack when you cut or nail them, and ladders and timber are slippery.
answer-cold-and-frost-more = Wait until the frost is gone and all is dry. Once they are nailed, cold does them no harm.

answer-best-season = A dry, mild, still spell, which is most often late spring or early autumn.
answer-best-season-more = The day counts more than the month: dry timber, between { $coldest }°C and { $hottest }°C, no frost, and no more wind than { $wind } mph. Keep a tarpaulin at hand.

answer-thunder-and-lightning = Come down now and go indoors. Stay off the roof and away from ladders and metal until there has been no thunder for half an hour.
answer-thunder-and-lightning-more = The sheets neither draw lightning nor keep it off. Whether the building needs a lightning rod, an electrician can say.

answer-working-at-dusk = No. Come down while you still see well. In bad light people miss rungs and edges.
answer-working-at-dusk-more = A head torch shows one spot and hides the edge. Fix or weigh down what is loose, take the ladder down, and go on by daylight.

answer-ladder-length = Its top must stand { $over } above the edge, and its foot one out for every { $one_in } up. How high is the edge above the ground? Say “ladder for an edge” and its height.
answer-ladder-length-more = Tie it, or have it footed. Never lean it on the gutter, never stand it on blocks to make it reach, and leave the top three rungs alone.

answer-age-and-health = I cannot judge that: ask your doctor. If you are unsteady, dizzy, ill or pregnant, or your tablets make you sleepy, stay off ladders and roofs. Let somebody else do the part up there.
answer-age-and-health-more = Measuring, cutting and sorting on the ground can still be yours. Whoever feels unwell up there comes down at once, and says so.

answer-what-to-wear = Shoes that grip and lace up, close-fitting clothes, no sandals.
answer-what-to-wear-more = Wear goggles and a dust mask to saw. A harness only helps where it is tied to a point made for it: a platform with a rail is better.

answer-dust-and-fumes = Saw out of doors, with goggles and a dust mask, and keep the dust off you. Never breathe the smoke of bitumen, so never burn it. If what you cut is old and grey, stop: it may be asbestos.
answer-dust-and-fumes-more = New sheets smell of tar in the sun for a while. What is in yours, the maker's safety sheet says. Wash your hands before you eat.

answer-animals-inside = They can live under it, if no nail point, loose edge or sheet is where they can reach it. Keep them away while you work, until every nail is picked up.
answer-animals-inside-more = They make the air damp and sharp: keep the gaps at eaves and ridge open, and take nails that stand it. Do not let them drink the water off the roof.

answer-curved-roof = I can only plan flat slopes. How tight a sheet may be bent along its length, only its label can say: bent further, it cracks.
answer-curved-roof-more = Sheets are never bent across the waves. For a barrel roof ask a roofer.

answer-order-of-work = From the bottom up. Look it over and mend it, then deck or purlins, then gutter brackets and eaves fillers. Then lay and nail the lowest course, starting at the end away from the wind, then the next. Verges, ridge and walls come last.
answer-order-of-work-more = Say “order of work” for your own list, or “start the work” and I go through it with you, step by step.

# About the chat

answer-who-are-you = I am a program, not a person. I plan roofs of corrugated bitumen sheets by rules that roofers wrote down. Say “talk to a person” if you want one.
answer-languages = I only speak English so far. Short, plain words are all I need, and slips do not matter.
answer-units-explained = Millimetres, centimetres, metres, feet and inches: write them as you like, with the unit. Say “units” and I show everything in the other ones.
answer-units-explained-more = A slope I take in degrees, or as how far up for how far along.
answer-privacy = Your answers and your plan are kept, so that you can go on later. I show them to nobody. Your list goes to a supplier only if you say so.
answer-privacy-more = Say “delete everything” and all of it is gone for good.
answer-what-changed = Nothing has changed since I gave you the plan.
answer-what-changed-fact = • { $fact }: it was { $before }, now it is { $after }.
answer-what-changed-new = • { $fact }: now it is { $after }.
answer-what-changed-same-list = What to buy is as it was. Look at the cut list: the pieces may be others.

# Words of the trade, one sentence or two each; found by what is asked: word-barge-board for “what's a barge board?”

word-eaves = The eaves are the low edge of a roof, where the rain runs off.
word-verge = The verge is the edge of a roof that goes up the slope, at its left or right end.
word-ridge = The ridge is the top line of a roof, where two slopes meet.
word-purlin = A purlin is a timber that lies along the roof. The sheets are nailed to it.
word-batten = { word-purlin }
word-rafter = A rafter is a timber that goes up the slope, from the low edge to the top.
word-joist = { word-rafter }
word-pitch = The pitch, or slope, is how steep the roof is. I take it in degrees, or as how far up for how far along.
word-slope = { word-pitch }
word-corrugation = A corrugation is one wave of the sheet. Count them along the short edge.
word-wave = { word-corrugation }
word-crown = The crown is the top of a wave. Nails go through it, where the water does not run.
word-course = A course is one row of sheets, side by side.
word-sound = Sound wood is hard, dry and straight, with no rot in it.
word-deck = A deck is one closed surface of boards or panels under the sheets.
word-osb = OSB is a board of big pressed wood chips. You see the chips on its face.
word-barge-board = A barge board is the board that goes up the end of a roof, under its sloping edge.
word-fascia = The fascia is the board along the low edge of a roof. A gutter hangs on it.
word-gable = A gable is the end wall that comes to a point under a roof of two slopes.
word-flashing = A flashing is a strip that covers the gap where a roof meets a wall.
word-abutment = An abutment is where a roof meets a wall.
word-lean-to = A lean-to is a roof of one slope with its high edge against a wall.
word-pent-roof = A pent roof has one slope.
word-apex-roof = An apex roof has two slopes that meet at the top.
word-span = The span is how wide the building is under the roof, measured level.
word-filler = A filler is a strip of foam in the shape of the waves. It closes the gaps under the sheet.
word-eaves-filler = { word-filler }
word-underlay = Underlay is a thin sheet of felt or fabric that lies under the roof sheets.
word-diagonal = A diagonal goes from one corner to the corner across. If both are alike, the roof is square.
